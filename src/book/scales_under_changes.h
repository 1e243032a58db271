// Under each chord of a rhythm part: what it does in its key, and the scale to play.
#pragma once

#include "shedbook/book/book.h"

namespace shedbook {

// Which bars of the tune stand there.
struct ShownBars {
    std::size_t first = 0;   // from 0
    std::size_t a_line = 4;  // at most
};
// `by`: from what sounds to what the part reads. A scale whose name has no room there stands in the table.
void name_scales(WrittenMusic& music, const Tune& tune, Interval by, ShownBars shown = {});

}  // namespace shedbook
