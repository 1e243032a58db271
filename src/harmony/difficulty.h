// How hard each bar of a tune is to play over: a sum of stated causes (docs/units.md), 0 to 100.
#pragma once

#include <string>
#include <vector>

#include "shedbook/chart/chart.h"
#include "shedbook/harmony/analysis.h"
#include "unit_chords.h"

namespace shedbook {

struct BarCost {
    double points = 0;  // 0 to 100
    std::string why;    // its two largest causes
};

// One for each written bar.
[[nodiscard]] std::vector<BarCost> bar_costs(const Chart& chart, const Analysis& analysis,
                                             const UnitRows& rows);

}  // namespace shedbook
