// Runs the engraver (LilyPond, a program of its own) on a book's text.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "page_plan.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// The text of a book and how many pages it is planned to have (0: as many as it takes).
struct PlannedText {
    std::string text;
    int pages = 0;
};
[[nodiscard]] PlannedText lilypond_text(const std::function<void(BlockSink&)>& assemble, const PageRoom& room,
                                        const Faults& faults);

// The same text in pieces that can be engraved each by itself: what stands before all of them, then the
// parts.
struct TextPart {
    int first_page = 0;
    int key = kNoKey;  // among the faults
    std::string_view text;
};
struct TextParts {
    std::string_view preamble;
    std::vector<TextPart> parts;
};
[[nodiscard]] TextParts parts_of(std::string_view text);

// What Debian's package needs to find its own compiled Scheme; it is twice as slow without.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> engraver_environment();

// What the engraver said of the pages.
struct Engraved {
    int pages = 0;
    std::vector<int> faulty;  // keys of parts that do not fit
    std::string fault;        // a warning that no looser plan helps against
};
[[nodiscard]] Engraved read_engraver(std::string_view said);

// MissingProgram if the engraver is not there; FailedProgram if it fails or is ended, or says that a page is
// over-full even when fewer systems are put on it; Stopped (interrupt.h).
void write_pdf(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
// Any text in the engraver's language.
void engrave_text(const std::string& path, const std::string& text);
// One page as a picture; UnusableRequest if there is no such page.
void write_svg(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
void write_png(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);

}  // namespace shedbook
