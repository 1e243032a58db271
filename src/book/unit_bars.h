// The bars of a unit, cut out of its tune.
#pragma once

#include <utility>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

// `changes`: of each part; `bars`: written bars from 1, both ends in. A bar before and a bar after, between
// double bars.
[[nodiscard]] UnitBars bars_with_ways(const std::vector<WrittenMusic>& changes, std::pair<int, int> bars);

// The sections of the tune begin elsewhere, if a unit goes over the border; its repetition is marked.
void unmark_sections(WrittenMusic& music);

}  // namespace shedbook
