// The plain changes of a tune as a written part: symbols over slashes, or over the melody where the chart has
// one.
#pragma once

#include <optional>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "shedbook/notation/document.h"
#include "shedbook/notation/notate.h"

namespace shedbook {

// What is done to a melody outside the instrument's range is said.
void assemble_lead_sheet(const Chart& chart, const Instrument& instrument, Prefer prefer, BlockSink& sink,
                         Diagnostics& diagnostics);

// The changes alone, over slashes whatever melody there is: a page of a book.
[[nodiscard]] WrittenMusic rhythm_part(const Chart& chart, const Instrument& instrument, Prefer prefer);

// The melody under its symbols, in the instrument's range as far as octaves bring it there; nothing where the
// chart has none.
[[nodiscard]] std::optional<WrittenMusic> melody_part(const Chart& chart, const Instrument& instrument,
                                                      Prefer prefer, Diagnostics& diagnostics);

}  // namespace shedbook
