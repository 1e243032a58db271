// Chords on a fretboard: four strings side by side under one hand, each chord where its voices move least
// from the one before. Worked out from the open strings; what good shapes are is common practice, no source.
//
//     comping_shapes(symbols, {{40, 45, 50, 55, 59, 64}, {1, 12}, {40, 76}});      // C7(#9): x 3 2 3 4 x
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

struct Fretboard {
    std::vector<int>
        open;          // key numbers of the open strings, in their order on the neck, the lowest side first
    KeySpan frets;     // those that may be used, both ends in; 0 is the open string
    KeySpan sounding;  // keys that may be used
    int width = 4;     // frets that a hand covers
};

inline constexpr std::size_t kShapeStrings = 4;

struct FrettedChord {
    std::vector<std::optional<int>> frets;  // of each string; nothing: it is not struck
    Voicing keys;
};

// One shape a symbol: third and seventh (or what stands for them) and two notes more. The root is the lowest
// of them or left out; only in a chord that has too few notes without it, it may lie inside. A bass behind
// the slash is the lowest or left out. `unlike`: the first shape does not lie on the note (in any octave)
// that these keys lie on; empty: any. Empty if some chord has no shape on this board.
[[nodiscard]] std::vector<FrettedChord> comping_shapes(std::span<const ChordSymbol> symbols,
                                                       const Fretboard& board, const Voicing& unlike = {});

}  // namespace shedbook
