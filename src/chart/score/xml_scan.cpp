#include "xml_scan.h"

#include <string>
#include <string_view>
#include <utility>

#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// Looks through markup without building anything.
class MarkupScanner {
  public:
    MarkupScanner(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, text_{source.text}, diagnostics_{diagnostics} {}

    bool run() {
        while (is_safe_) {
            const std::size_t next = text_.find('<', at_);
            if (next == std::string_view::npos) return true;
            if (next > at_) ++nodes_;  // text between the tags
            at_ = next;
            take_markup();
            if (nodes_ > kMostXmlNodes) {
                refuse("more than " + std::to_string(kMostXmlNodes) + " elements and attributes",
                       "split the score, or save the part with the chord symbols alone");
            }
        }
        return false;
    }

  private:
    void take_markup() {
        const std::string_view rest = text_.substr(at_);
        if (rest.starts_with("<!--")) {
            skip_past("-->");
        } else if (rest.starts_with("<![CDATA[")) {
            ++nodes_;
            skip_past("]]>");
        } else if (rest.starts_with("<?")) {
            skip_past("?>");
        } else if (rest.starts_with("<!")) {
            take_doctype();
        } else if (rest.starts_with("</")) {
            --depth_;
            skip_past(">");
        } else {
            take_element();
        }
    }

    void skip_past(std::string_view end) {
        const std::size_t found = text_.find(end, at_ + 1);
        at_ = found == std::string_view::npos ? text_.size() : found + end.size();
    }

    // A plain DOCTYPE is harmless, for nothing is ever fetched; one with declarations of its own is not
    // needed by any score and is how entities are made to expand without end.
    void take_doctype() {
        char quote = '\0';
        for (; at_ < text_.size(); ++at_) {
            const char c = text_[at_];
            if (quote != '\0') {
                if (c == quote) quote = '\0';
            } else if (c == '"' || c == '\'') {
                quote = c;
            } else if (c == '[') {
                refuse("the document declares entities or elements of its own",
                       "scores need none; such declarations can be harmful and are refused");
                return;
            } else if (c == '>') {
                ++at_;
                return;
            }
        }
    }

    void take_element() {
        ++nodes_;
        char quote = '\0';
        for (++at_; at_ < text_.size(); ++at_) {
            const char c = text_[at_];
            if (quote != '\0') {
                if (c == quote) quote = '\0';
            } else if (c == '"' || c == '\'') {
                quote = c;
                ++nodes_;  // an attribute
            } else if (c == '>') {
                break;
            }
        }
        const bool closes_itself = at_ < text_.size() && text_[at_ - 1] == '/';
        if (!closes_itself && ++depth_ > kDeepestXml) {
            refuse("elements within elements, more than " + std::to_string(kDeepestXml) + " deep",
                   "a score has about twelve levels");
        }
        at_ = at_ < text_.size() ? at_ + 1 : at_;
    }

    void refuse(std::string message, std::string hint) {
        is_safe_ = false;
        diagnostics_.error_at(source_.name, std::move(message), std::move(hint));
    }

    const SourceText& source_;
    std::string_view text_;
    Diagnostics& diagnostics_;
    std::size_t at_ = 0;
    std::size_t nodes_ = 0;
    int depth_ = 0;
    bool is_safe_ = true;
};

}  // namespace

bool is_safe_xml(const SourceText& source, Diagnostics& diagnostics) {
    return MarkupScanner{source, diagnostics}.run();
}

}  // namespace shedbook
