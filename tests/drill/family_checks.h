// The invariants of the drill families, checked on the notes alone: positions in the scale are worked out
// here from semitones, not by the code under test. Definitions: common practice, no source, but where one is
// named.
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
// Whether the family has an invariant of its own beyond those of every drill.
[[nodiscard]] bool has_family_check(const DrillTemplate& drill);

}  // namespace shedbook
