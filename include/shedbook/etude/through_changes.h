// Lines through the changes of a whole tune.
//
//     ConcertLine line = unbroken_scale_line(spans, range);
#pragma once

#include <vector>

#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// An unbroken line of eighths, or other notes, through all the spans: each note in the scale of its own
// moment, stepwise, going on in its direction over every change and turning only where the range ends. Common
// practice; the invariants are tested.
[[nodiscard]] ConcertLine unbroken_scale_line(const std::vector<ScaleSpan>& spans, PitchRange range,
                                              Duration note = kEighth);

}  // namespace shedbook
