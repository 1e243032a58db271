#include "engrave.h"

#include <algorithm>
#include <filesystem>
#include <functional>
#include <map>
#include <numeric>
#include <ostream>
#include <span>
#include <thread>
#include <utility>

#include "engraver_process.h"
#include "lilypond_book.h"
#include "lilypond_style.h"
#include "page_cache.h"
#include "pdf_join.h"
#include "score_pages.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/io/user_folder.h"

namespace shedbook {
namespace {

using Assemble = std::function<void(BlockSink&)>;

constexpr int kMostRounds = 8;  // of mending the parts that did not fit, before giving up
// Fewer pages are not worth a process of their own, which shares the engraver's start but reads the style
// anew.
constexpr int kFewestPagesAtOnce = 2;
constexpr std::uintmax_t kMostBytes = 512U * 1024 * 1024;

// Empty where there is none.
std::string folder_of_cache() {
    const std::string folder = user_folder(UserFolder::Cache);
    return folder.empty() ? folder : folder + "/pages";
}

// Parts shared out among as many files as can be set at a time, each with about as much to do: the longest go
// first, each to the file that has least so far. What the engraver does grows with the text.
using Batch = std::vector<EngraverPart>;
std::vector<Batch> batches_of(std::vector<EngraverPart> parts) {
    const int pages = std::transform_reduce(parts.begin(), parts.end(), 0, std::plus<>{},
                                            [](const EngraverPart& part) { return std::max(1, part.pages); });
    const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
    const int most = std::min(static_cast<int>(parts.size()), pages / kFewestPagesAtOnce);
    std::vector<Batch> out(static_cast<std::size_t>(std::clamp(most, 1, cores)));
    std::vector<std::size_t> length(out.size(), 0);
    std::ranges::stable_sort(parts, std::ranges::greater{},
                             [](const EngraverPart& part) { return part.text.size(); });
    for (EngraverPart& part : parts) {
        const auto least = std::ranges::min_element(length) - length.begin();
        length[static_cast<std::size_t>(least)] += part.text.size();
        out[static_cast<std::size_t>(least)].push_back(std::move(part));
    }
    for (Batch& batch : out) std::ranges::stable_sort(batch, {}, &EngraverPart::first_page);
    return out;
}

// Where the pages of a part lie, once they are set, or why they are not as they should be.
struct SetPart {
    PdfPages pages;
    EngravedPart said;
};

// Sets parts, each text once.
class Typesetter {
  public:
    Typesetter(bool uses_cache, std::function<void(int done, int of)> on_pages)
        : cache_{uses_cache ? folder_of_cache() : std::string{}}, on_pages_{std::move(on_pages)} {}

    // What came of each part of the book, in order, and behind them of its stamps, if it has any.
    std::vector<const SetPart*> set(const EngraverText& book) {
        const std::string preamble = book.preamble + std::string{kLinksToBook};
        std::vector<EngraverPart> parts = book.parts;
        if (book.stamps) parts.push_back(*book.stamps);
        std::vector<EngraverPart> missing;
        for (const EngraverPart& part : parts) {
            if (!find(preamble, part)) missing.push_back(part);
        }
        if (!missing.empty()) set_anew(preamble, missing);
        std::vector<const SetPart*> out;
        out.reserve(parts.size());
        for (const EngraverPart& part : parts) out.push_back(&done_.at(preamble + part.text));
        return out;
    }

    [[nodiscard]] bool has_used_cache() const { return has_used_cache_; }

  private:
    bool find(const std::string& preamble, const EngraverPart& part) {
        if (done_.contains(preamble + part.text)) return true;
        const auto kept = cache_.find(key_of(preamble, part), folder_.path());
        if (!kept) return false;
        has_used_cache_ = true;
        done_[preamble + part.text] = {kept->pages, {part.key, kept->pages.count, kept->wide, kept->warning}};
        return true;
    }

    [[nodiscard]] std::string key_of(const std::string& preamble, const EngraverPart& part) const {
        return engraver_ + "\n" + preamble + part.text;
    }

    void set_anew(const std::string& preamble, const std::vector<EngraverPart>& parts) {
        const std::vector<Batch> batches = batches_of(parts);
        std::vector<std::string> names;
        for (const Batch& batch : batches) {
            names.push_back("set" + std::to_string(++files_));
            put(folder_, names.back(), preamble, batch);
        }
        const int pages =
            std::transform_reduce(parts.begin(), parts.end(), 0, std::plus<>{},
                                  [](const EngraverPart& part) { return std::max(1, part.pages); });
        int told = 0;
        const auto tell = [&](int done) {
            if (std::exchange(told, done) != done) on_pages_(std::min(done, pages), pages);
        };
        const std::vector<std::string> said =
            run_engraver(folder_, {}, names, on_pages_ ? std::function<void(int)>{tell} : nullptr);
        for (std::size_t b = 0; b < batches.size(); ++b)
            take(preamble, batches[b], read_engraver(said[b]), folder_.path() + "/" + names[b] + ".pdf");
    }

    void take(const std::string& preamble, const Batch& batch, const Engraved& engraved,
              const std::string& file) {
        // One of its own helpers may have been ended: then it says nothing of it and leaves no pages.
        if (!std::filesystem::exists(file) || engraved.parts.size() != batch.size())
            throw FailedProgram("the engraver ended without its pages; nothing was written");
        if (!engraved.fault.empty())
            throw FailedProgram("the engraver could not set this book: " + engraved.fault);
        std::vector<PageCache::Kept> kept;
        int page = 1;
        for (std::size_t i = 0; i < batch.size(); ++i) {
            EngravedPart part = engraved.parts[i];
            const int planned = batch[i].pages;
            if (planned > 0 && part.pages != planned && !part.is_at_fault()) {
                part.warning = std::to_string(planned) + " pages were planned, and it made " +
                               std::to_string(part.pages);
            }
            const PdfPages pages{file, page, part.pages};
            page += part.pages;
            kept.push_back({key_of(preamble, batch[i]), {pages, part.wide, part.warning}});
            done_[preamble + batch[i].text] = {pages, std::move(part)};
        }
        cache_.keep(kept);
    }

    const TemporaryFolder folder_;
    const std::string engraver_ = engraver_identity();
    PageCache cache_;
    const std::function<void(int done, int of)> on_pages_;
    std::map<std::string, SetPart> done_;  // by their text
    int files_ = 0;
    bool has_used_cache_ = false;
};

// Notes what is at fault; false if that is nothing.
bool note_faults(const std::vector<const SetPart*>& parts, Faults& faults) {
    bool is_any = false;
    for (const SetPart* part : parts) {
        const EngravedPart& said = part->said;
        if (!said.is_at_fault()) continue;
        if (said.key == kNoKey) {
            throw FailedProgram("the engraver could not set this book: " +
                                (said.warning.empty() ? "a line is wider than its page" : said.warning));
        }
        is_any = true;
        Fault& fault = faults[said.key];
        if (!said.warning.empty()) ++fault.full;
        fault.wide *= said.wide;
    }
    return is_any;
}

std::string pages_of_book(const Document& document, const WriteOptions& options, Typesetter& typesetter) {
    Faults faults;
    for (int round = 0; round < kMostRounds; ++round) {
        const EngraverText book = engraver_text(document, options.paper, faults);
        const std::vector<const SetPart*> parts = typesetter.set(book);
        if (note_faults(parts, faults)) continue;
        std::vector<PdfPages> pieces;
        pieces.reserve(book.parts.size());
        for (std::size_t i = 0; i < book.parts.size(); ++i) {
            pieces.push_back(parts[i]->pages);
            pieces.back().takes_stamp = book.parts[i].has_foot;
        }
        return joined_pdf(pieces, book, book.stamps ? &parts.back()->pages : nullptr);
    }
    throw FailedProgram("the engraver could not set this book: over-full pages");
}

void write_bytes(const std::string& path, const std::string& bytes) {
    write_atomically(path, [&](std::ostream& out) {
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    });
}

void hand_over(const std::string& from, const std::string& path) {
    if (!std::filesystem::exists(from))
        throw FailedProgram("the engraver ended without its pages; nothing was written");
    write_bytes(path, read_file(from, kMostBytes));
}

void write_picture(const std::string& path, const Assemble& assemble, const WriteOptions& options,
                   const std::string& format, const std::string& stem) {
    const InterruptWatch watch;
    const EngraverText text = engraver_text(recorded(assemble), options.paper);
    // The last part that begins at or before the page.
    const auto behind = std::ranges::find_if(
        text.parts, [&](const EngraverPart& part) { return part.first_page > options.page; });
    const bool is_there = behind != text.parts.begin();
    const TemporaryFolder folder;
    Engraved engraved;
    int page = options.page;
    if (is_there) {
        const EngraverPart& part = *(behind - 1);
        page -= part.first_page - 1;
        put(folder, "page", text.preamble + text.foot, {&part, 1});
        engraved = read_engraver(run_engraver(folder, {"--" + format, "-dresolution=150"}, {"page"}).front());
    }
    if (page > engraved.pages()) {
        throw UnusableRequest("there is no page " + std::to_string(options.page) +
                              (text.pages > 0 ? "; the book has " + std::to_string(text.pages) : ""));
    }
    if (!engraved.fault.empty())
        throw FailedProgram("the engraver could not set this page: " + engraved.fault);
    const std::string which = engraved.pages() == 1 ? "" : stem + std::to_string(page);
    hand_over(folder.path() + "/page" + which + "." + format, path);
}

}  // namespace

EngraverText engraver_text(const Document& document, Paper paper, const Faults& faults) {
    if (document.head.parts.size() > 1) return score_text(document, paper);
    return book_text(document, room_of(paper), faults);
}

void write_pdf(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    const InterruptWatch watch;  // so that Ctrl-C ends the engraver too, and leaves nothing behind
    const Document document = recorded(assemble);
    Typesetter typesetter{options.uses_cache, options.on_pages};
    try {
        write_bytes(path, pages_of_book(document, options, typesetter));
    } catch (const FileError&) {
        if (!typesetter.has_used_cache()) throw;
        // Kept pages that are none: all of them are set anew.
        Typesetter again{false, options.on_pages};
        write_bytes(path, pages_of_book(document, options, again));
    }
}

void write_svg(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_picture(path, assemble, options, "svg", "-");
}

void write_png(const std::string& path, const Assemble& assemble, const WriteOptions& options) {
    write_picture(path, assemble, options, "png", "-page");
}

}  // namespace shedbook
