// Under each chord of a rhythm part: what it does in its key, and the scale to play.
#pragma once

#include "shedbook/book/book.h"

namespace shedbook {

// `by`: from what sounds to what the part reads. A scale whose name has no room there stands in the table.
void name_scales(WrittenMusic& music, const Tune& tune, Interval by);

}  // namespace shedbook
