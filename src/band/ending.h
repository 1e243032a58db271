// How a band comes to its last chord: at once, or with a figure of its style before it is held.
#pragma once

#include <vector>

#include "shedbook/band/rhythm_section.h"

namespace shedbook {

struct EndingStroke {
    Position at;
    Duration length;  // of the last one: to the end
};

// What everybody strikes together; empty if nothing is held.
[[nodiscard]] std::vector<EndingStroke> ending_strokes(const RhythmSection& band);

}  // namespace shedbook
