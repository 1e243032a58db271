// What the length of a bar is called on paper.
#pragma once

#include <cstddef>

#include "shedbook/base/time.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// The meter of a bar: the one in force where the bar is as long as that, else one of its own.
// UnwritableMusic, with the number of the bar, if no meter is so long.
[[nodiscard]] Meter meter_of_bar(Duration length, const Meter& in_force, std::size_t number);

}  // namespace shedbook
