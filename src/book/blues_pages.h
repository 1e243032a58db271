// What a book of a blues does otherwise: its first line comes first, with a riff; the blues scale before all
// others; at the end riff, riff again and a line home in place of the composed etude.
#pragma once

#include <span>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/harmony/units.h"
#include "unit_lines.h"

namespace shedbook {

[[nodiscard]] bool is_blues(const TuneUnits& units);

// The lines on the whole form.
[[nodiscard]] std::span<const LineOfUnit> lines_on_form(bool is_blues, bool is_first_level);

// The first line of a blues before all other units.
void put_blues_first(std::vector<const PracticeUnit*>& units);

// With the blues scale before what is drilled on the chord of its tonic.
[[nodiscard]] std::vector<const DrillTemplate*> with_blues_scale(std::vector<const DrillTemplate*> drills);

}  // namespace shedbook
