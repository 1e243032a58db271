// The places that a chord's notes can take under one hand, and what speaks against each.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

#include "shedbook/band/accompaniment.h"

namespace shedbook {

// Every way to lay these pitch classes within a span of an octave or more, each once, and the same without
// the fourth of them. Never empty.
[[nodiscard]] std::vector<Voicing> voicings(const std::vector<int>& pitch_classes, KeySpan within);

// Tenths of a semitone, to be added up: mud and gaps within a voicing, what it leaves out of so many tones,
// and how far it lies off the middle.
[[nodiscard]] int placement_cost(const Voicing& voicing, std::size_t tones, KeySpan within);
// How far the voices move, in tenths of a semitone a voice.
[[nodiscard]] int movement_cost(const Voicing& from, const Voicing& to);

// A voicing, and what speaks against it by itself.
struct Placed {
    Voicing voicing;
    int cost = 0;
};
// Which voicing of each chord, each of which has some: those that cost least in all. `moving`: the numbers of
// those, rising, that must not be the same as the one before, as far as there is another. `most_at_top`: so
// many semitones its highest voice moves at most, as far as there is such a row.
inline constexpr int kAnyLeap = std::numeric_limits<int>::max();
[[nodiscard]] std::vector<std::size_t> cheapest_row(const std::vector<std::vector<Placed>>& choices,
                                                    const std::vector<std::size_t>& moving = {},
                                                    int most_at_top = kAnyLeap);
// The voicings themselves.
[[nodiscard]] std::vector<Voicing> lead_voices(const std::vector<std::vector<Placed>>& choices,
                                               const std::vector<std::size_t>& moving = {},
                                               int most_at_top = kAnyLeap);
// The voicings of some tones in a span, as they are placed.
[[nodiscard]] std::vector<Placed> placed_voicings(const std::vector<int>& pitch_classes, KeySpan within);

}  // namespace shedbook
