// What a chord sounds as when it is read from the bass up: D/Bb as Bbmaj7(#5), F/G as G9sus4. A bass that is
// a tone of the chord is an inversion, and so is a seventh in the bass that goes on as sevenths do.
#pragma once

#include <vector>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// The chords of a tune, each as it is heard between its neighbours; as written where nothing else is heard.
[[nodiscard]] std::vector<ChordSymbol> heard_in_row(const std::vector<ChordSymbol>& written);

// A chord that is heard as a suspension on its bass, and by that acts as a dominant: C/D, Gm7/C.
[[nodiscard]] bool is_suspension_over_bass(const ChordSymbol& symbol);

}  // namespace shedbook
