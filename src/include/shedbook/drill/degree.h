// What the numbers of a cell mean over a note: 3 is its third, however many notes the scale has between.
// Drills and etudes read their cells by it. Common practice, no source.
//
//     degrees_above(sounds_above({c, d_flat, e_flat, e, f_sharp, g, a, b_flat}, c), {});  // 5 is 7 half
//     steps
#pragma once

#include <array>
#include <bitset>
#include <optional>
#include <vector>

#include "shedbook/theory/pitch.h"

namespace shedbook {

// Half steps over a note that there are notes at, 0 to 11.
using SoundsAbove = std::bitset<12>;
// Half steps of the first, the second ... the seventh over a note; nothing where there is none.
using Degrees = std::array<std::optional<int>, 7>;

[[nodiscard]] SoundsAbove sounds_above(const std::vector<PitchClass>& notes, PitchClass note);
// The third, fifth and seventh that a chord has itself over its root, by their letters.
[[nodiscard]] Degrees own_degrees(const std::vector<PitchClass>& chord, PitchClass root);
// A fourth and no third.
[[nodiscard]] bool is_sus(const std::vector<PitchClass>& chord, PitchClass root);

// The degrees that these notes have: `own` where it says one, else the plainest of their size; no two alike.
[[nodiscard]] Degrees degrees_above(SoundsAbove notes, const Degrees& own);

}  // namespace shedbook
