// A drill template on a scale, fitted into a range: the notes to play.
//
//     auto plan = plan_drill(thirds, ladder, {range});
//     ConcertLine line = evaluate(thirds, ladder, *plan, range);
#pragma once

#include <optional>
#include <span>
#include <string>

#include "shedbook/drill/drill_template.h"
#include "shedbook/drill/ladder.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// Drills are in 4/4.
inline constexpr Duration kDrillBar = kWhole;

// What all players of a group play together: the same cells, so that bar numbers agree; each in an octave of
// his own.
struct DrillPlan {
    int start_rung = 0;  // where the walk begins
    int steps = 7;       // how far it goes up
    int bars = 0;
    std::string
        remark;  // how it differs from the template: "from the 5th, to stay in range"; empty if it does not
};

// The longest form of the drill that every one of the ranges holds. Nothing if even the shortest does not
// fit, or if the scale has too few notes.
[[nodiscard]] std::optional<DrillPlan> plan_drill(const DrillTemplate& drill, const ScaleLadder& ladder,
                                                  std::span<const PitchRange> ranges);

// The line for one of these ranges: every note inside it, as long as plan.bars.
[[nodiscard]] ConcertLine evaluate(const DrillTemplate& drill, const ScaleLadder& ladder,
                                   const DrillPlan& plan, PitchRange range);

}  // namespace shedbook
