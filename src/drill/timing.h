// Gives the notes of an outline their places in the bar.
#pragma once

#include "outline.h"

namespace shedbook {

[[nodiscard]] ConcertLine set_in_time(const DrillTemplate& drill, const Outline& outline);
// How many bars that will take.
[[nodiscard]] int bars_taken(const DrillTemplate& drill, const Outline& outline);

}  // namespace shedbook
