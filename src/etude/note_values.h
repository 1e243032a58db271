// Which values a player keeps up with at a tempo. Common practice, no source: nobody plays ten notes a second
// for long.
//
//     playable(Duration{Rational{1, 16}}, 190, 6);             // triplets: 1/12
#pragma once

#include "shedbook/etude/etude.h"

namespace shedbook {

// Quarters a minute; 120 where nothing is said.
[[nodiscard]] int quarters_a_minute(const EtudeRequest& request, const EtudeGround& ground);
// The finest value that is played at this tempo and level, no finer than the one wished for: above 172
// quarters a minute no sixteenths, above 160 none below level 6, from 200 on no triplets.
[[nodiscard]] Duration playable(Duration wished, int quarters, int level);

}  // namespace shedbook
