// Where in the form a place lies: which chorus, which section, which bar of it.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "shedbook/band/rhythm_section.h"

namespace shedbook {

struct FormPlace {
    std::size_t chorus = 0;
    std::size_t section = 0;    // counted over all choruses; a long one is several phrases, a vamp is one
    std::size_t bar = 0;        // of its section, from 0
    bool ends_section = false;  // its last bar
};

// One for each bar.
[[nodiscard]] std::vector<FormPlace> form_places(const RhythmSection& band);

// The chord that sounds at a place, or nothing: by its number.
[[nodiscard]] std::optional<std::size_t> chord_number_at(std::span<const BandChord> chords, Position at);

[[nodiscard]] inline BandChorus chorus_of(const RhythmSection& band, const FormPlace& place) {
    return place.chorus < band.choruses.size() ? band.choruses[place.chorus] : BandChorus{};
}

}  // namespace shedbook
