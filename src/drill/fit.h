// Where the notes of a drill lie in a range.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "outline.h"

namespace shedbook {

// Lowest and highest key number.
struct Compass {
    int low = 0;
    int high = 0;
};
[[nodiscard]] Compass compass_of(std::span<const Pitch> notes);

[[nodiscard]] bool fits_in(PitchRange range, Compass compass);
// Octaves by which notes can be moved so that they lie in the range, the lowest place first.
[[nodiscard]] std::vector<int> positions_in(PitchRange range, Compass compass);
// The one of them inside the wished register and nearest its middle.
[[nodiscard]] int best_position(const std::vector<int>& positions, Compass compass, PitchRange wished);

[[nodiscard]] int first_rung(const DrillTemplate& drill, const ScaleLadder& ladder);
// How far the walk goes up as the template means it, and as short as it may become.
[[nodiscard]] int wanted_steps(const DrillTemplate& drill, const ScaleLadder& ladder);
[[nodiscard]] int fewest_steps(const DrillTemplate& drill, const ScaleLadder& ladder);

// From the lowest tonic that the range holds up to its top, down to its bottom and home again.
struct RangeWalk {
    Pitch bottom_pitch;  // of rung 0
    int bottom = 0;
    int top = 0;
    std::vector<Station> stations;
    Outline outline;
};
[[nodiscard]] std::optional<RangeWalk> range_walk(const DrillTemplate& drill, const ScaleLadder& ladder,
                                                  PitchRange range);

// The plan with the cells that do not fit left out, or moved by an octave; nothing if more than a third would
// have to go.
[[nodiscard]] std::optional<DrillPlan> with_cells_moved(const DrillTemplate& drill, const ScaleLadder& ladder,
                                                        std::span<const PitchRange> ranges, DrillPlan plan);

}  // namespace shedbook
