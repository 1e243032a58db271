// Where on a neck a line lies best.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/notation/instrument.h"

namespace shedbook {

// String counted from the highest, 1; 0: the note is not on the neck.
struct FretPlace {
    int string = 0;
    int fret = 0;
};

// A place for every note (written MIDI numbers), with the least movement of a hand that covers `reach` frets;
// open strings only where the hand lies at the first fret. `span`: the frets to stay in, where a note is
// found there.
[[nodiscard]] std::vector<FretPlace> places_on_fretboard(const std::vector<int>& notes,
                                                         const Instrument& instrument, int reach,
                                                         const std::optional<FretSpan>& span);

}  // namespace shedbook
