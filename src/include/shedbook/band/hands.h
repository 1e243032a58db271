// Chords for the hands of a keyboard: which keys, each chord where its voices move least from the one before.
// What good voicings are is common practice, no source.
//
//     rootless_chords(symbols, {52, 67});                      // Dm7 G7: F3 A3 C4 E4, F3 A3 B3 E4
//     shells(symbols, {40, 64});                               // D3 C4, G2 B2
#pragma once

#include <span>
#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// The tones that comping plays, without the root where a chord has enough without it; a span of an octave at
// least. `unlike`: the first chord does not lie on the note (in any octave) that this one lies on; empty:
// any.
[[nodiscard]] std::vector<Voicing> rootless_chords(std::span<const ChordSymbol> symbols, KeySpan within,
                                                   const Voicing& unlike = {});

// Under them: the root (or the bass behind the slash) and the third or the seventh over it, whichever is
// nearer to the one before; a span of two octaves at least.
[[nodiscard]] std::vector<Voicing> shells(std::span<const ChordSymbol> symbols, KeySpan within);

}  // namespace shedbook
