// Runs the engraver (LilyPond, a program of its own) on a book's text.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "lilypond_book.h"
#include "page_plan.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// What Debian's package needs to find its own compiled Scheme; it is twice as slow without.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> engraver_environment();

// What the engraver said of the pages.
struct Engraved {
    int pages = 0;
    std::vector<int> faulty;  // keys of parts that do not fit
    std::string fault;        // a warning that no looser plan helps against
};
[[nodiscard]] Engraved read_engraver(std::string_view said);

// The text of any document, also of a score.
[[nodiscard]] EngraverText engraver_text(const Document& document, Paper paper, const Faults& faults = {});

// FileError if the engraver is not there or fails, or says that a page is over-full even when fewer systems
// are put on it.
void write_pdf(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
// One page as a picture.
void write_svg(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
void write_png(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);

}  // namespace shedbook
