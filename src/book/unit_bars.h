// The bars of a unit, cut out of its tune.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/harmony/units.h"
#include "shedbook/notation/document.h"

namespace shedbook {

// On each system: all, or as many as on the others.
[[nodiscard]] std::size_t shown_bars_a_system(std::size_t bars);

// `changes`: of each part; `bars` and those `shown` around them: written bars from 1, both ends in. Double
// bars stand between.
[[nodiscard]] UnitBars bars_with_ways(const std::vector<WrittenMusic>& changes, std::pair<int, int> bars,
                                      std::pair<int, int> shown);

// Books made together have the same bars: what is hard for their first part, whose interval that is, comes
// first in all.
void weigh_alike(TuneUnits& units, const Tune& tune, Interval by);

// The sections of the tune begin elsewhere, if a unit goes over the border; its repetition is marked.
void unmark_sections(WrittenMusic& music);

}  // namespace shedbook
