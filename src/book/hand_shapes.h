// Chords on a fretboard as a line to read, with the frets of each in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "comping.h"
#include "shedbook/book/book.h"
#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

struct HandShapes {
    ConcertLine line;
    std::vector<std::string> frets;  // of each stroke, from the lowest string: "x 3 2 3 4 x"; again: empty
};
// One shape a change, struck in the rhythm, in the part's range and frets (the first twelve where
// it names none), as wide and as full as the level (1 to 6) has it; a second chorus begins in another
// position. Nothing where the instrument has no strings and frets for it, where some chord has no shape, or
// if there is no chord.
[[nodiscard]] std::optional<HandShapes> hand_shapes(const EtudeGround& ground, const BookPart& part,
                                                    const CompingRhythm& rhythm, int level);

}  // namespace shedbook
