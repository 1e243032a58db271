// The left hand of a keyboard part: the same line an octave or a tenth below, on a staff of its own.
#pragma once

#include "shedbook/drill/ladder.h"
#include "shedbook/notation/notate.h"

namespace shedbook {

// What the left hand plays under a line: in tenths every scale note stands two notes of the scale and an
// octave lower, and what lies between them moves along with the note it leads to. Without a ladder: octaves.
[[nodiscard]] ConcertLine left_hand_of(const ConcertLine& line, HandsApart apart, const ScaleLadder* ladder);

// Adds a staff of the left hand for such a line; a bass staff where the instrument names none.
void add_lower_staff(WrittenMusic& music, const ConcertLine& left, const NotateOptions& notation);
// The same with what it plays under the line, where the instrument has such a staff.
void add_left_hand(WrittenMusic& music, const ConcertLine& line, const NotateOptions& notation,
                   const ScaleLadder* ladder);

}  // namespace shedbook
