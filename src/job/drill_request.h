// The drills that a request is for.
#pragma once

#include <vector>

#include "shedbook/drill/drill_template.h"
#include "shedbook/job/requests.h"

namespace shedbook {

struct ChosenDrills {
    std::vector<const DrillTemplate*> drills;
    DrillSetting setting;
};
// By their names. Without names: those of the user's own files, or the usual ones.
[[nodiscard]] ChosenDrills choose_drills(const DrillRequest& request);

}  // namespace shedbook
