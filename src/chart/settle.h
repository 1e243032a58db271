// Puts the signs of a chart into one canonical state, so that two ways of writing the same thing give equal
// charts and every writer can say all of it. Each reader ends with this.
#pragma once

#include "shedbook/chart/chart.h"

namespace shedbook {

// Ending numbers rise and are there once; a bracket begins where its numbers are new, at a section, after a
// repeat sign and where a repeat opens; a double bar is dropped where a repeat sign or a bracket that goes on
// leaves no room for it; a repeat sign for bars (%) stands only where the bar has no chords and there is a
// bar to repeat, the two-bar sign on two bars that nothing parts (else the chords are written out); a meter
// or key that changes nothing is dropped; a melody is one line of notes in their order, within its bar.
void settle(Chart& chart);

}  // namespace shedbook
