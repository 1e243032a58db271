// The places that a chord's notes can take under one hand, and what speaks against each.
#pragma once

#include <vector>

namespace shedbook {

// Key numbers, rising.
using Voicing = std::vector<int>;

// Every way to lay these pitch classes between kCompingLowest and kCompingHighest, each once, and the same
// without the fourth of them. Never empty.
[[nodiscard]] std::vector<Voicing> voicings(const std::vector<int>& pitch_classes);

// Tenths of a semitone, to be added up: mud and gaps within a voicing, what it leaves out of so many tones,
// and how far it lies off the middle.
[[nodiscard]] int placement_cost(const Voicing& voicing, std::size_t tones);
// How far the voices move, in tenths of a semitone a voice.
[[nodiscard]] int movement_cost(const Voicing& from, const Voicing& to);

}  // namespace shedbook
