// What a home key gains by the ends of the tune, by being named, and loses by being rare.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "key_scores.h"

namespace shedbook {

// The tonic chord of the last cadence V I, if nothing but a turnaround of two bars follows; -1 without one.
[[nodiscard]] int final_tonic(const std::vector<ChordView>& chords);

// What can speak for a home key.
enum class Voice { Named, BluesForm, LastCadence, FirstChord, LastChord, TurnsBack, OwnChords, Cadences };
inline constexpr std::size_t kVoices = count_of<Voice>();
using Voices = std::array<double, kVoices>;

// How loud each is for this home; own chords and cadences, which are judged along the path, are left at 0.
[[nodiscard]] Voices voices_of_ends(const std::vector<ChordView>& chords,
                                    const std::optional<Tonality>& stated, Tonality home,
                                    const KeyScores& scores);
[[nodiscard]] double cost_of_ends(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                                  Tonality home, const KeyScores& scores);

}  // namespace shedbook
