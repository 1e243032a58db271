// What a drill is made of, before it meets a scale: cells of notes, walks, rhythms, ways to articulate.
// docs/drills.md explains the forms in which a teacher writes them.
//
//     "1 3"                         a cell: a note and the third above it
//     "1/8 1/8 1/4"                 a rhythm, over and over
//     "(o o) . ."                   two slurred, two short
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// One note of a cell.
struct CellNote {
    enum class Kind {
        Degree,     // a degree of the scale, 1 the note that the cell stands on
        ChordTone,  // c1 c2 ...: chord tones counted from the note that the cell stands on
        Neighbour,  // a note beside another one
        Run,        // by step from the note before to this one
    };
    enum class Side { StepAbove, StepBelow, HalfAbove, HalfBelow, WholeAbove, WholeBelow };
    enum class Target { Degree, ChordTone, Next };  // of a neighbour; Next: the next cell's first note

    Kind kind = Kind::Degree;
    int steps = 0;    // rungs (or chord tones) above the cell's note
    int octaves = 0;  // octaves more
    Side side = Side::StepAbove;
    Target target = Target::Degree;
    friend bool operator==(const CellNote&, const CellNote&) = default;
};
using DrillCell = std::vector<CellNote>;

struct PatternFault {
    std::size_t begin = 0;  // bytes in the text
    std::size_t end = 0;
    std::string message;
    std::string hint;
    bool has_sign = false;  // a degree with a flat or a sharp before it
};
// A cell as it is typed, in a template or for an etude: "1 3 5 7", "c1 c2 2' run:1".
[[nodiscard]] std::optional<DrillCell> parse_cell(std::string_view text, PatternFault& fault);
// Whether its numbers speak of a chord: three different degrees and more. Two are an interval of the scale.
[[nodiscard]] bool speaks_of_chord(const DrillCell& cell);
// The same over a sus chord: 4 for 3, but beside a 4 (there the third only passes).
[[nodiscard]] DrillCell over_sus(const DrillCell& cell);

// A place on the walk: so many steps above its lowest or below its highest note.
struct WalkEdge {
    bool from_top = false;
    int offset = 0;
    friend bool operator==(const WalkEdge&, const WalkEdge&) = default;
};

// The k-th inversion of a cell: its k lowest notes an octave higher, in the same order of rising and falling.
[[nodiscard]] DrillCell inverted(const DrillCell& cell, int times);

struct RhythmStep {
    Duration length;
    bool is_rest = false;
    friend bool operator==(const RhythmStep&, const RhythmStep&) = default;
};
using Rhythm = std::vector<RhythmStep>;  // begun again when it is through

// Triplets, quintuplets: a part that is no half, quarter, eighth ... of a whole note.
[[nodiscard]] bool is_tuplet(Duration length);
[[nodiscard]] bool has_tuplets(const Rhythm& rhythm);

struct ArticulationStep {
    Articulation mark = Articulation::None;
    bool slur_starts = false;
    bool slur_stops = false;
    friend bool operator==(const ArticulationStep&, const ArticulationStep&) = default;
};
using ArticulationPattern = std::vector<ArticulationStep>;  // begun again in every bar

}  // namespace shedbook
