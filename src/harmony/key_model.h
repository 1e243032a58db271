// All numbers that the reading of keys depends on.
#pragma once

#include "key_scores.h"

namespace shedbook {

struct KeyModel {
    KeyScores scores;
    PlaceCosts places = place_costs(scores);
};
// The one that is compiled in.
[[nodiscard]] const KeyModel& key_model();

}  // namespace shedbook
