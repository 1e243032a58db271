// Where a tune is hard, and the pages for it, as markups of the engraver: the form in lines of bars with
// strokes over what is hard and brackets under its units, then the units as an index.
#pragma once

#include <string>

#include "page_plan.h"

namespace shedbook {

// How high it stands, in staff spaces, with its lines as close as can be read.
[[nodiscard]] double least_height(const TuneOverview& overview);
// In a height that is not less.
[[nodiscard]] std::string overview_text(const PlannedTune& tune, const PageRoom& room, double height);

}  // namespace shedbook
