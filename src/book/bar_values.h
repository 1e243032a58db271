// What a length is called on paper.
#pragma once

#include "shedbook/base/time.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// A meter for a bar that is shorter or longer than the meter in force.
[[nodiscard]] Meter meter_of_length(Duration length);

}  // namespace shedbook
