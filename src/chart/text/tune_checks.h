// What is judged before a text chart is read, and what only when all of it has been.
#pragma once

#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "tune_tokens.h"

namespace shedbook {

// Whether the text is small enough, UTF-8, and in lines that a person may have typed.
[[nodiscard]] bool is_readable_text(const SourceText& source, Diagnostics& diagnostics);

// No line says a meter, and of the bars with several words there are two or more, all of three.
[[nodiscard]] bool has_three_in_bars(const std::vector<TuneToken>& tokens);

// Settles the signs of the chart and reports what they lead to. `labels` are the places of the section
// labels; `checks_form` is false where a sign may have been lost to a fault that is reported already.
void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics);

}  // namespace shedbook
