// Where the chords of a band are struck: the figures of its style, chosen by phrase and by what the line
// does.
#pragma once

#include <vector>

#include "form.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

struct CompingStroke {
    Position at;
    Duration length;
    std::size_t chord = 0;
    Touch touch = Touch::Plain;
};

// Every chord is heard.
[[nodiscard]] std::vector<CompingStroke> chord_strokes(const RhythmSection& band,
                                                       const std::vector<FormPlace>& places);

}  // namespace shedbook
