// The same music with most of it left out, to be played from memory.
//
//     WrittenMusic page = with_empty_staves(drill, 1);         // the first bar, then empty staves
#pragma once

#include <cstddef>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// Bars, lines and chord symbols stay; notes only in the first `bars_kept` bars. A note tied over the end of
// those ends there.
[[nodiscard]] WrittenMusic with_empty_staves(const WrittenMusic& music, std::size_t bars_kept);

// The same with notes in the first half of every so many bars only, at least one of them: what comes between
// is to be found by ear.
[[nodiscard]] WrittenMusic with_gaps(const WrittenMusic& music, std::size_t every);

// The music, a double bar, and as many bars again without notes, headed "your version": beside it where it is
// short, else on a new line.
[[nodiscard]] WrittenMusic with_own_version(const WrittenMusic& music);

}  // namespace shedbook
