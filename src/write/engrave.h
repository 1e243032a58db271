// Pages by the engraver (LilyPond): a whole book as PDF, one page of it as a picture.
#pragma once

#include <functional>
#include <string>

#include "engraver_text.h"
#include "page_plan.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// The text of any document, also of a score.
[[nodiscard]] EngraverText engraver_text(const Document& document, Paper paper, const Faults& faults = {});

// Sets a book in parts, as many at a time as there are cores, and joins them; a part that was set before
// comes from the user's cache folder. What does not fit is set again by itself: looser where a page is
// over-full, smaller where something stands over the margins. MachineError if the engraver is not there or
// fails, or if something does not fit all the same.
void write_pdf(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
// One page as a picture.
void write_svg(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
void write_png(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);

}  // namespace shedbook
