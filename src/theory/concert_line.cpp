#include "shedbook/theory/concert_line.h"

#include <algorithm>

namespace shedbook {

ConcertLine transposed(ConcertLine line, Interval by) {
    for (LineNote& note : line.notes) note.pitch = note.pitch + by;
    return line;
}

bool is_within(const ConcertLine& line, PitchRange range) {
    return std::ranges::all_of(line.notes, [&](const LineNote& note) { return range.holds(note.pitch); });
}

}  // namespace shedbook
