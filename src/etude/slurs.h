// Slurs for who begins: later a player phrases by ear.
#pragma once

#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

inline constexpr int kLastLevelWithSlurs = 3;
void add_slurs(ConcertLine& line, const EtudeGround& ground, bool is_swung);

}  // namespace shedbook
