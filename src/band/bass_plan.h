// What a bass player has in mind before the notes: which note of the chord stands on a change, how the line
// goes on from each note, and how high it lies here.
#pragma once

#include <vector>

#include "bass_beats.h"
#include "bass_strokes.h"

namespace shedbook {

// One for each stroke but the skips, which repeat what was played.
[[nodiscard]] std::vector<BassBeat> plan_bass(const RhythmSection& band, const std::vector<FormPlace>& places,
                                              const std::vector<BassStroke>& strokes);

}  // namespace shedbook
