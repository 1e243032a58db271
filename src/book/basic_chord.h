// A chord without its colours.
#pragma once

#include <optional>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// The seventh or sixth chord, or the triad, on which a symbol with ninths, altered fifths and the like is
// built: C7 for C7(b9,#11) or C7alt. Nothing if there is nothing to take away.
[[nodiscard]] std::optional<ChordSymbol> basic_chord(const ChordSymbol& symbol);

}  // namespace shedbook
