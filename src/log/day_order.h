// The order in which the pieces of a day are played.
#pragma once

#include <vector>

#include "shedbook/log/day_plan.h"

namespace shedbook {

// Mixed: long pieces come in two visits, and neither a subject nor a kind of work comes twice in a row where
// that can be. Else one after the other, scale by scale. A run through the form is last. So many breaks of so
// many minutes lie between, as evenly as pieces allow.
[[nodiscard]] std::vector<PlannedPiece> in_order_of_day(std::vector<PlannedPiece> pieces, bool mixed,
                                                        int breaks, int minutes_of_break);

}  // namespace shedbook
