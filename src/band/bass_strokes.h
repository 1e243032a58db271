// Where the bass of a band plays: the figures of its style over the bars, with every change heard.
#pragma once

#include <vector>

#include "form.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

// The sign of a note that belongs to the next bar, and is tied over.
inline constexpr char kEarlyBass = '>';

struct BassStroke {
    Position at;
    Duration length;
    char sign = 'w';         // as in templates/band.toml
    std::size_t chord = 0;   // what it plays over: of an early one, the chord of the bar to come
    std::size_t bar = 0;     // that it lies in
    bool is_change = false;  // the first of its chord
};

[[nodiscard]] std::vector<BassStroke> bass_strokes(const RhythmSection& band,
                                                   const std::vector<FormPlace>& places);

}  // namespace shedbook
