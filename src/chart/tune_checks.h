// What can be judged only when a whole text chart has been read.
#pragma once

#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

// Settles the signs of the chart and reports what they lead to. `labels` are the places of the section
// labels; `checks_form` is false where a sign may have been lost to a fault that is reported already.
void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics);

}  // namespace shedbook
