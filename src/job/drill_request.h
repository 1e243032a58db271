// The drills that a request is for.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// The drills as they are to be played. They live here; the pointers into them last as long as this does.
struct ChosenDrills {
    std::vector<DrillTemplate> drills;
    DrillSetting setting;
    [[nodiscard]] std::vector<const DrillTemplate*> pointers() const;
};
// By their names. Without names: those of the files, or the usual ones. Faults of a file go to `diagnostics`;
// the result is then nothing.
[[nodiscard]] std::optional<ChosenDrills> choose_drills(const DrillRequest& request,
                                                        Diagnostics& diagnostics);

}  // namespace shedbook
