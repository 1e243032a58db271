// What was practised as SVG: see notation/progress_chart.h. Black, white and grey alone: signs tell apart
// what colours would.
#pragma once

#include <iosfwd>

#include "shedbook/notation/progress_chart.h"

namespace shedbook {

void write_tempo_chart(const TempoChart& chart, std::ostream& out);
void write_key_map(const KeyMap& map, std::ostream& out);

}  // namespace shedbook
