// What is judged before a text chart is read, and what only when all of it has been.
#pragma once

#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

// Whether the text is small enough, UTF-8, and in lines that a person may have typed.
[[nodiscard]] bool is_readable_text(const SourceText& source, Diagnostics& diagnostics);

// Settles the signs of the chart and reports what they lead to. `labels` are the places of the section
// labels; `checks_form` is false where a sign may have been lost to a fault that is reported already.
void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics);

}  // namespace shedbook
