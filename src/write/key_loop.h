// A piece that goes through keys as it is repeated: each time through moved, and the next key prepared by its
// dominant.
#pragma once

#include <vector>

#include "performance.h"

namespace shedbook {

// `keys`: semitones over the first, one for each time through, from the beginning again when they are used
// up. The line moves up or down, whichever is less; in the second half of the last bar of each time through
// but the last stands the dominant of the next chord, if that is another key's.
void go_through_keys(Performance& piece, const std::vector<int>& keys);

}  // namespace shedbook
