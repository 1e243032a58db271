// A drill template on a scale, fitted into a range: the notes to play.
//
//     auto plan = plan_drill(thirds, ladder, {range});
//     ConcertLine line = evaluate(thirds, ladder, *plan, range);
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "shedbook/drill/drill_template.h"
#include "shedbook/drill/ladder.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// What all players of a group play together: the same cells, so that bar numbers agree; each in an octave of
// his own.
struct DrillPlan {
    static constexpr std::int8_t kLeftOut = 127;

    int start_rung = 0;  // where the walk begins
    int steps = 7;       // how far it goes up
    int bottom = 0;      // and how far below its beginning, as a negative number
    int bars = 0;
    std::vector<std::int8_t> moved;     // octaves that each cell is moved by, or kLeftOut; empty: none
    std::optional<ScaleLadder> ladder;  // of the drill's material, where that is not the scale
    // How it differs from the template, and why: "from the 5th", "to stay in range"; empty if it does not.
    std::string remark;
    std::string why;
};

// The longest form of the drill that every one of the ranges holds. Nothing if even the shortest does not
// fit, if the scale has too few notes, or if it has none of the drill's material.
[[nodiscard]] std::optional<DrillPlan> plan_drill(const DrillTemplate& drill, const ScaleLadder& ladder,
                                                  std::span<const PitchRange> ranges);

// The line for one of these ranges: every note inside it, as long as plan.bars. `position`: the octave, 0 the
// lowest that fits; nothing: the one that lies best in the range.
[[nodiscard]] ConcertLine evaluate(const DrillTemplate& drill, const ScaleLadder& ladder,
                                   const DrillPlan& plan, PitchRange range, std::optional<int> position = {});

// Octaves that the drill fits in: at least 1.
[[nodiscard]] int octave_positions(const DrillTemplate& drill, const ScaleLadder& ladder,
                                   const DrillPlan& plan, PitchRange range);

// Why plan_drill found nothing, and what would do.
struct DrillAdvice {
    std::string why;                         // "the scale has 5 notes, and it needs 7"
    const DrillTemplate* instead = nullptr;  // the nearest of the library that fits; null if none does
    std::size_t which = 0;                   // the range that is too small,
    std::optional<PitchRange> needs;         // and the nearest one that would hold its shortest form
};
[[nodiscard]] DrillAdvice advice_on(const DrillTemplate& drill, const ScaleLadder& ladder,
                                    std::span<const PitchRange> ranges,
                                    std::span<const DrillTemplate> library);

}  // namespace shedbook
