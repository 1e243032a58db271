// The way through a chart: which bars are played in which order, and what is wrong with the signs that say
// so. Readers report the faults with places of their own; order_of_play reports the errors for charts that
// came from anywhere else.
#pragma once

#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

struct FormFault {
    Severity severity = Severity::Error;
    int bar = 0;  // written bar from 0
    std::string message;
    std::string hint;
};

struct FormPlan {
    std::vector<int> order;  // written bars from 0; of use only where no fault is an error
    std::vector<FormFault> faults;
    [[nodiscard]] bool is_playable() const;
};

[[nodiscard]] FormPlan plan_form(const Chart& chart);

}  // namespace shedbook
