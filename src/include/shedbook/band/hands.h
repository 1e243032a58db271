// Chords for the hands of a keyboard: which keys, each chord where its voices move least from the one before.
// What good voicings are is common practice, no source.
//
//     rootless_chords(symbols, {57, 74});                      // Dm7 G7: C4 F4 A4, B3 F4 A4 (with the 9th
//     too) guide_tone_chords(chords, {57, 74});                    // Dm7 G7: C4 F4, B3 F4
//     bass_notes(chords, {40, 55});                           // D3 G2
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// A chord for a hand, and the ninth that its scale has for it where the symbol names none.
struct HandChord {
    ChordSymbol symbol;
    std::optional<PitchClass> ninth = {};
};

// The highest voice of the chords below moves by a major third at most, where their span allows it.
inline constexpr int kMostAtTop = 4;

// The tones that comping plays, third and seventh always, without the root where a chord has enough without
// it; a span of an octave at least. No half step at the bottom; above only where a voicing is known for it (9
// beneath a minor 3rd, 13 beneath a 7th, 7 beneath the root): never a sharp 9 beside the 3rd. `unlike`: the
// first chord does not lie on the note (in any octave) that this one lies on; empty: any.
[[nodiscard]] std::vector<Voicing> rootless_chords(std::span<const HandChord> chords, KeySpan within,
                                                   const Voicing& unlike = {});

// Third and seventh alone, or what a chord has for them without its root.
[[nodiscard]] std::vector<Voicing> guide_tone_chords(std::span<const HandChord> chords, KeySpan within,
                                                     const Voicing& unlike = {});

// Under them: the root, or the bass behind the slash; a span of an octave at least.
[[nodiscard]] std::vector<Voicing> bass_notes(std::span<const HandChord> chords, KeySpan within);

}  // namespace shedbook
