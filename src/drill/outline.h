// The notes of a drill before they have lengths.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/drill/evaluate.h"

namespace shedbook {

// A cell in its place on the walk.
struct Station {
    int place = 0;  // steps of the walk above its beginning
    const DrillCell* cell = nullptr;
    int octaves = 0;  // moved by
};

struct Outline {
    std::vector<Pitch> notes;
    std::vector<std::size_t> cell_ends;  // index behind each cell's last note
    bool has_end = false;                // the last note is the one to rest on, and stands in no cell
};

// Drills are worked out with rung 0 here and then moved by octaves.
[[nodiscard]] Pitch reference_bottom(const ScaleLadder& ladder);

// The cells of a drill in order, by its plan.
[[nodiscard]] std::vector<Station> stations_of(const DrillTemplate& drill, const DrillPlan& plan);
// The notes of these cells, rung 0 at `bottom`, and the note to rest on, if the drill has one.
[[nodiscard]] Outline outline_of(const DrillTemplate& drill, const ScaleLadder& ladder, int start_rung,
                                 const std::vector<Station>& stations, Pitch bottom);

}  // namespace shedbook
