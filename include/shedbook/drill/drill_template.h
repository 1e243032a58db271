// Drills as data: a cell of notes, moved up and down a scale. One TOML entry each; docs/drills.md explains
// the form to the teacher who writes one.
//
//     [[drill]]
//     id = "thirds"
//     rising = "1 3"        # each note with the third above it
//     falling = "3 1"       # coming down, each pair is turned over
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/base/time.h"

namespace shedbook {

// One note of a cell.
struct CellNote {
    enum class Kind {
        Degree,     // a degree of the scale, 1 the note that the cell stands on
        ChordTone,  // c1 c2 ...: chord tones counted from the note that the cell stands on
        Neighbour,  // a note beside another one
        Run,        // by step from the note before to this one
    };
    enum class Side { StepAbove, StepBelow, HalfAbove, HalfBelow };

    Kind kind = Kind::Degree;
    int steps = 0;                // rungs (or chord tones) above the cell's note
    int octaves = 0;              // octaves more
    Side side = Side::StepAbove;  // Neighbour only
    bool of_next = false;         // Neighbour only: beside the next cell's first note, not beside `steps`
};
using Cell = std::vector<CellNote>;

// A place on the walk: so many steps above its lowest or below its highest note.
struct WalkEdge {
    bool from_top = false;
    int offset = 0;
};

struct DrillTemplate {
    enum class Form { Range, Cells };  // Range: the scale through the whole range
    enum class Walk { Scale, Chord };  // which notes the cells stand on

    std::string id;
    std::string title;
    std::string about;
    int level = 1;
    Form form = Form::Cells;
    Walk walk = Walk::Scale;
    int start = 1;             // degree that the walk begins on
    int octaves = 1;           // how far it goes up
    std::vector<Cell> rising;  // used in turn, by the place of the walk
    std::vector<Cell> falling;
    WalkEdge rising_from;
    WalkEdge rising_to{.from_top = true};
    WalkEdge falling_from{.from_top = true};
    WalkEdge falling_to;
    std::optional<int> end;  // rungs above the start: the note that it comes to rest on
    Duration note = kEighth;
    bool holds_cells = false;  // the last note of each cell lasts to the end of its bar
    int fewest_notes = 5;      // smallest scale that it suits
};

[[nodiscard]] std::vector<DrillTemplate> read_drill_templates(const SourceText& source,
                                                              Diagnostics& diagnostics);
// Those that come with the program, in their order.
[[nodiscard]] const std::vector<DrillTemplate>& drill_templates();
[[nodiscard]] const DrillTemplate* find_drill(std::string_view name);
[[nodiscard]] std::vector<std::string> drill_names();

}  // namespace shedbook
