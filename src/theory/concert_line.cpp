#include "shedbook/theory/concert_line.h"

#include <algorithm>

namespace shedbook {

ConcertLine transposed(ConcertLine line, Interval by) {
    for (LineNote& note : line.notes) note.pitch = note.pitch + by;
    for (NoteBelow& note : line.below) note.pitch = note.pitch + by;
    return line;
}

bool is_within(const ConcertLine& line, PitchRange range) {
    const auto is_held = [&](const auto& note) { return range.holds(note.pitch); };
    return std::ranges::all_of(line.notes, is_held) && std::ranges::all_of(line.below, is_held);
}

}  // namespace shedbook
