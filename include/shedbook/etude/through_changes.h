// Lines through the changes of a whole tune.
//
//     ConcertLine line = unbroken_scale_line(spans, range);
#pragma once

#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/theory/concert_line.h"
#include "shedbook/theory/scale.h"

namespace shedbook {

// A stretch of the tune on which one scale is played; nothing where there is no chord: a rest.
struct ScaleSpan {
    Position at;
    Duration length;
    std::vector<PitchClass> notes;  // spelled; empty: rest
    std::vector<PitchClass> chord;  // where a line may come to rest, the root first
};

// An unbroken line of eighths through all the spans: each note in the scale of its own moment, stepwise,
// going on in its direction over every change and turning only where the range ends. Common practice; the
// invariants are tested.
[[nodiscard]] ConcertLine unbroken_scale_line(const std::vector<ScaleSpan>& spans, PitchRange range);

}  // namespace shedbook
