// Whether a teacher would let a phrase pass over the chords as they are here (common practice, no source): it
// tells every chord, what lies outside leads on, and it comes to rest.
#pragma once

#include <span>

#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// From the first note on. `level`: from 4 on it may end on a sixth or a ninth.
[[nodiscard]] bool is_sound(const ConcertLine& line, std::span<const ScaleSpan> chords,
                            const EtudeGround& ground, int level);

}  // namespace shedbook
