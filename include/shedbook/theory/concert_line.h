// A melody as it sounds: spelled notes with exact times. What drills and etudes make, before any instrument
// sees it.
//
//     ConcertLine line;
//     line.notes.push_back({pitch, Position{}, kEighth});
//     transposed(line, kOctave);                               // the same an octave higher
#pragma once

#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

struct LineNote {
    Pitch pitch;
    Position at;  // from the start of the line
    Duration length;
    friend bool operator==(const LineNote&, const LineNote&) = default;
};

// One voice: notes in order of time, none overlapping; what lies between them is rest.
struct ConcertLine {
    std::vector<LineNote> notes;
    Duration length;  // of the whole line, a rest at its end included
};

[[nodiscard]] ConcertLine transposed(ConcertLine line, Interval by);
[[nodiscard]] bool is_within(const ConcertLine& line, PitchRange range);

}  // namespace shedbook
