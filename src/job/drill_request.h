// The drills that a request is for.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/job/requests.h"

namespace shedbook {

struct ChosenDrills {
    std::vector<const DrillTemplate*> drills;
    DrillSetting setting;
    std::optional<Signatures> signatures;
};
// By their names. Without names: those of the user's own files, or the usual ones.
[[nodiscard]] ChosenDrills choose_drills(const DrillRequest& request);

}  // namespace shedbook
