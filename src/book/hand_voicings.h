// Chords for the hands of a keyboard as lines to read: one a change, in the rhythm of the changes.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/etude/ground.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// Where a chord is struck and how long it sounds: at its change, and again in each bar that it goes on
// through.
struct ChordStroke {
    const ScaleSpan* span = nullptr;
    Position at;
    Duration length;
};
[[nodiscard]] std::vector<ChordStroke> chord_strokes(const EtudeGround& ground);
[[nodiscard]] std::vector<ChordSymbol> symbols_of(const std::vector<ChordStroke>& strokes);
// How many of them come before the second time through.
[[nodiscard]] std::size_t strokes_of_first_chorus(const std::vector<ChordStroke>& strokes,
                                                  const EtudeGround& ground);

// Key numbers, rising, as one note of a line and those below it, spelled by scale and chord of their place.
void add_chord_to(ConcertLine& line, const std::vector<int>& keys, const ChordStroke& stroke);

struct HandVoicings {
    ConcertLine right;
    std::optional<ConcertLine> left;  // the roots, on a bass staff under one that is no bass staff itself
};
// At the levels (1 to 6) up to kLastLevelOfShells third and seventh of each chord, then, and at that level
// where a dominant names a tension, rootless chords of
// four notes, in the range and on the staff of the instrument; in a second chorus they begin in another
// position. The right hand strikes where `right` says, the left at the changes. Nothing if the range has no
// octave there, or if there is no chord.
inline constexpr int kLastLevelOfShells = 3;
[[nodiscard]] std::optional<HandVoicings> hand_voicings(const EtudeGround& ground,
                                                        const Instrument& instrument, const PitchRange& range,
                                                        int level, const std::vector<ChordStroke>& right);

}  // namespace shedbook
