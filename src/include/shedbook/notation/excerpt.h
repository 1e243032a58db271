// Some bars of a piece as a piece of their own.
//
//     excerpt(rhythm_part, 4, 8).measures.size();              // 4
#pragma once

#include <cstddef>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// Measures `from` to `to` - 1, which are there. The meter in force at its beginning is that of the excerpt;
// the chord that sounds on from before is named again. One staff: what stands below is left out.
[[nodiscard]] WrittenMusic excerpt(const WrittenMusic& music, std::size_t from, std::size_t to);

}  // namespace shedbook
