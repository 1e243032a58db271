// Runs the engraver (LilyPond, a program of its own) on a book's text.
#pragma once

#include <string>

#include "shedbook/write/writers.h"

namespace shedbook {

// The text of a book, its pages planned for this room.
[[nodiscard]] std::string lilypond_text(const std::function<void(BlockSink&)>& assemble,
                                        const WriteOptions& options, int tightness);

// Writes the book as PDF. FileError if the engraver is not there, too old or fails, or says that a page is
// over-full even when fewer systems are put on a page.
void write_pdf(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);

}  // namespace shedbook
