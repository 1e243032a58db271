// The makers of the kinds of etudes, one function each.
#pragma once

#include "shedbook/etude/etude.h"

namespace shedbook {

ConcertLine composed_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);

}  // namespace shedbook
