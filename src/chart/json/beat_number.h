// Beats as JSON has them: decimal numbers, counted from 1 in units of the meter's lower number.
#pragma once

#include <optional>

#include "shedbook/base/time.h"
#include "shedbook/io/data.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// The place in the bar; thirds and the like are recognised from two decimals on (2.33). Nothing for a number
// that is no beat.
[[nodiscard]] std::optional<Position> place_of_beat(double beat, const Meter& meter);
[[nodiscard]] Data beat_of_place(Position at, const Meter& meter);

}  // namespace shedbook
