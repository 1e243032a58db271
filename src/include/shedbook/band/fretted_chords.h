// Chords on a fretboard, under one hand, each chord where its voices move least from the one before. Worked
// out from the open strings; what good shapes are is common practice, no source.
//
//     comping_shapes(symbols, {{40, 45, 50, 55, 59, 64}, {1, 12}, {40, 76}});      // G7: 3 x 3 4 3 x
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
    int width_below_eight =
        4;                  // the same for a hand that begins on the first seven frets, where they are wide
    bool is_plain = false;  // root, third, seventh, and what the symbol names beyond them: no fifth
};

// A board of so many strings has low ones, on which a third or a seventh growls: they are for the bass of the
// chord.
inline constexpr std::size_t kStringsWithBasses = 6;

struct FrettedChord {
    std::vector<std::optional<int>> frets;  // of each string; nothing: it is not struck
    Voicing keys;
};

// One shape a symbol, always with third and seventh (or what stands for them). With low strings: the root (or
// the bass behind the slash) on one of the two lowest, third, seventh and a colour on the three after the
// next; where no hand reaches that, and on smaller boards, four strings side by side, the root the lowest or
// left out. In a chord that has too few notes without it the root may lie inside. `unlike`: the first shape
// lies on another string than this one, or on smaller boards on another note; no frets: anywhere. Empty if
// some chord has no shape on this board.
[[nodiscard]] std::vector<FrettedChord> comping_shapes(std::span<const ChordSymbol> symbols,
                                                       const Fretboard& board,
                                                       const FrettedChord& unlike = {});

}  // namespace shedbook
