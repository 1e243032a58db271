// What is judged before a text chart is read, and what only when all of it has been.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "tune_tokens.h"

namespace shedbook {

// Whether the text is small enough, UTF-8, and in lines that a person may have typed.
[[nodiscard]] bool is_readable_text(const SourceText& source, Diagnostics& diagnostics);

// 3/4, which is said, where no line says a meter and the bars with several words, two at least, all have
// three.
[[nodiscard]] std::optional<Meter> meter_of_bars(const std::vector<TuneToken>& tokens,
                                                 const SourceText& source, Diagnostics& diagnostics);

// Settles the signs of the chart and reports what they lead to. `labels` are the places of the section
// labels; `checks_form` is false where a sign may have been lost to a fault that is reported already.
void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics);

}  // namespace shedbook
