// Chords on a fretboard as a line to read, with the frets of each in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

struct HandShapes {
    ConcertLine line;
    std::vector<std::string> frets;  // of each chord, from the lowest string: "x 3 2 3 4 x"
};
// One shape a change, and again in each bar that it goes on through, in the part's range and frets (the first
// twelve where it names none); a second chorus begins in another position. Nothing where the instrument has
// no strings and frets for it, where some chord has no shape, or if there is no chord.
[[nodiscard]] std::optional<HandShapes> hand_shapes(const EtudeGround& ground, const BookPart& part);

}  // namespace shedbook
