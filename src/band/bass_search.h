// The notes of a bass line: what may be played on each beat, and what speaks for one way rather than another.
#pragma once

#include <vector>

#include "bass_beats.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

// What a line is for. A study has the bass on every change and leads into it by step, as a page teaches it; a
// band plays more freely.
enum class BassManner { StudyWalk, StudyStraight, BandWalk, BandPattern };

[[nodiscard]] BassMotion motion_of(int semitones);

// A key for each beat; those with the least sum of what speaks against them.
[[nodiscard]] std::vector<int> cheapest_keys(const std::vector<BassBeat>& beats, BassManner manner,
                                             unsigned seed);

}  // namespace shedbook
