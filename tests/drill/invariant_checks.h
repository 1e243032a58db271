// Whether the notes of a drill keep what its template says under `keeps`: one check for all drills, on the
// notes alone. Places in the scale are worked out here from semitones, not by the code under test, and it
// does not look at the cells. Definitions: common practice, no source, but where one is named.
#pragma once

#include <string>

#include "shedbook/drill/evaluate.h"

namespace shedbook {

struct DrillCase {
    const DrillTemplate& drill;
    const ScaleLadder& ladder;  // of the chord and scale that were asked for
    const DrillPlan& plan;
    const ConcertLine& line;
    PitchRange range;
};

// What is wrong with the line; empty if nothing is.
[[nodiscard]] std::string fault_of(const DrillCase& one);

}  // namespace shedbook
