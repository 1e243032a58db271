// The form of a blues, bar by bar.
#pragma once

#include <vector>

#include "chord_view.h"

namespace shedbook {

// How much of every twelve bars has the chords of a blues on this tonic: I in the first and seventh, IV in
// the fifth, V in the ninth or tenth (H31.3 "The Blues Progression"); 0 to 1, and 0 unless the bars are a
// multiple of twelve.
[[nodiscard]] double blues_form(const std::vector<ChordView>& chords, int tonic);
[[nodiscard]] bool has_blues_form(const std::vector<ChordView>& chords, int tonic);

}  // namespace shedbook
