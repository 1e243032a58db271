#include "pdf_join.h"

#include <charconv>
#include <cstddef>
#include <map>
#include <memory>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFPageObjectHelper.hh>
#include <qpdf/QPDFWriter.hh>
#include <string_view>

#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

using Object = QPDFObjectHandle;
using Pages = std::vector<QPDFPageObjectHelper>;

class Joiner {
  public:
    Joiner() {
        out_.emptyPDF();
        out_.setSuppressWarnings(true);
    }

    void add(const PdfPages& piece) {
        for (const QPDFPageObjectHelper& page : pages_of(piece)) {
            QPDFPageDocumentHelper{out_}.addPage(page, false);
            takes_stamp_.push_back(piece.takes_stamp);
        }
    }

    // Once all pages are there.
    void stamp(const PdfPages& stamps) {
        std::vector<Object> forms;
        for (QPDFPageObjectHelper& page : pages_of(stamps))
            forms.push_back(out_.copyForeignObject(page.getFormXObjectForPage()));
        std::vector<QPDFPageObjectHelper> pages = QPDFPageDocumentHelper{out_}.getAllPages();
        for (std::size_t i = 0; i < pages.size(); ++i) {
            if (takes_stamp_[i]) lay_over(pages[i], forms.at(i % 2));
        }
    }

    std::string write(const EngraverText& book) {
        pages_ = QPDFPageDocumentHelper{out_}.getAllPages();
        for (QPDFPageObjectHelper& page : pages_) link(page);
        outline(book.marks);
        name(book);
        QPDFWriter writer{out_};
        writer.setOutputMemory();
        writer.setDeterministicID(true);
        writer.setObjectStreamMode(qpdf_o_generate);
        writer.write();
        const std::shared_ptr<Buffer> bytes = writer.getBufferSharedPointer();
        return {reinterpret_cast<const char*>(bytes->getBuffer()), bytes->getSize()};
    }

  private:
    Pages pages_of(const PdfPages& piece) {
        std::unique_ptr<QPDF>& source = sources_[piece.path];
        if (source == nullptr) {
            source = std::make_unique<QPDF>();
            source->setSuppressWarnings(true);
            source->processFile(piece.path.c_str());
        }
        const Pages pages = QPDFPageDocumentHelper{*source}.getAllPages();
        const auto first = static_cast<std::ptrdiff_t>(piece.first - 1);
        const std::ptrdiff_t end = first + piece.count;
        if (end > std::ssize(pages)) throw FileError("'" + piece.path + "' has not so many pages");
        return {pages.begin() + first, pages.begin() + end};
    }

    void lay_over(QPDFPageObjectHelper& page, const Object& form) {
        constexpr const char* kName = "/Stamp";
        Object resources = page.getAttribute("/Resources", true);
        if (!resources.isDictionary()) {
            resources = Object::newDictionary();
            page.getObjectHandle().replaceKey("/Resources", resources);
        }
        Object drawings = resources.getKey("/XObject");
        drawings = drawings.isDictionary() ? drawings.shallowCopy() : Object::newDictionary();
        drawings.replaceKey(kName, form);
        resources.replaceKey("/XObject", drawings);
        // What the page itself draws may leave another scale and place behind.
        page.addPageContents(Object::newStream(&out_, "q\n"), true);
        page.addPageContents(Object::newStream(&out_, "\nQ\nq " + std::string{kName} + " Do Q\n"), false);
    }

    // The whole of a page; null where there is none of that number.
    Object place(int page) {
        if (page < 1 || static_cast<std::size_t>(page) > pages_.size()) return Object::newNull();
        Object out = Object::newArray();
        out.appendItem(pages_[static_cast<std::size_t>(page - 1)].getObjectHandle());
        out.appendItem(Object::newName("/Fit"));
        return out;
    }

    void link(QPDFPageObjectHelper& page) {
        constexpr std::string_view kPrefix{kPageOfBook};
        for (QPDFAnnotationObjectHelper& annotation : page.getAnnotations("/Link")) {
            Object link = annotation.getObjectHandle();
            Object action = link.getKey("/A");
            if (!action.isDictionary() || !action.getKey("/URI").isString()) continue;
            const std::string to = action.getKey("/URI").getStringValue();
            if (!to.starts_with(kPrefix)) continue;
            int number = 0;
            std::from_chars(to.data() + kPrefix.size(), to.data() + to.size(), number);
            link.removeKey("/A");
            if (Object goal = place(number); !goal.isNull()) link.replaceKey("/Dest", goal);
        }
    }

    void outline(const std::vector<PageMark>& marks) {
        Object root = out_.makeIndirectObject(Object::parse("<< /Type /Outlines >>"));
        Object before;
        int count = 0;
        for (const PageMark& mark : marks) {
            Object goal = place(mark.page);
            if (goal.isNull()) continue;
            Object entry = out_.makeIndirectObject(Object::newDictionary());
            entry.replaceKey("/Title", Object::newUnicodeString(mark.title));
            entry.replaceKey("/Parent", root);
            entry.replaceKey("/Dest", goal);
            if (count++ == 0) {
                root.replaceKey("/First", entry);
            } else {
                entry.replaceKey("/Prev", before);
                before.replaceKey("/Next", entry);
            }
            root.replaceKey("/Last", entry);
            before = entry;
        }
        if (count == 0) return;
        root.replaceKey("/Count", Object::newInteger(count));
        out_.getRoot().replaceKey("/Outlines", root);
        if (count > 1) out_.getRoot().replaceKey("/PageMode", Object::newName("/UseOutlines"));
    }

    void name(const EngraverText& book) {
        Object info = Object::newDictionary();
        info.replaceKey("/Title", Object::newUnicodeString(book.title));
        if (!book.author.empty()) info.replaceKey("/Author", Object::newUnicodeString(book.author));
        info.replaceKey("/Creator", Object::newUnicodeString("shedbook"));
        out_.getTrailer().replaceKey("/Info", out_.makeIndirectObject(info));
    }

    QPDF out_;
    std::map<std::string, std::unique_ptr<QPDF>> sources_;  // must live until out_ is written
    Pages pages_;
    std::vector<bool> takes_stamp_;  // of each page
};

}  // namespace

std::string joined_pdf(const std::vector<PdfPages>& pieces, const EngraverText& book,
                       const PdfPages* stamps) {
    try {
        Joiner joiner;
        for (const PdfPages& piece : pieces) joiner.add(piece);
        if (stamps != nullptr) joiner.stamp(*stamps);
        return joiner.write(book);
    } catch (const QPDFExc& error) {
        throw FileError("the pages could not be joined: " + std::string{error.what()});
    }
}

}  // namespace shedbook
