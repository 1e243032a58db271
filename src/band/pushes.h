// Where everybody comes in an eighth before a beat.
#pragma once

#include <vector>

#include "form.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

struct Push {
    Position at;              // an eighth before the beat
    std::size_t chord = 0;    // that comes in
    bool is_written = false;  // the chart has it there; else it is the band's, into a barline
};

// Those of the chart, and in a dance a few of the band's own: bass, chords and kick together, and nobody by
// himself. Rising.
[[nodiscard]] std::vector<Push> pushes(const RhythmSection& band, const std::vector<FormPlace>& places);

}  // namespace shedbook
