// A scale as a ladder without end: rung 0 is its tonic somewhere, rung 1 the next note up, negative rungs lie
// below. Drills are written as rungs, so "a third up" is two rungs in any scale.
//
//     ScaleLadder ladder{scale, chord};
//     to_string(ladder.pitch(2, Pitch{c, 4}));                 // over C Dorian: "Eb4"
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/pitch.h"
#include "shedbook/theory/scale.h"

namespace shedbook {

class ScaleLadder {
  public:
    // Without a chord, the first, third, fifth and seventh notes count as its tones.
    ScaleLadder(const Scale& scale, const std::optional<ChordSymbol>& chord);

    [[nodiscard]] const Scale& scale() const { return scale_; }
    [[nodiscard]] const std::optional<ChordSymbol>& chord() const { return chord_; }
    // The notes as they are spelled over the chord, from the tonic up.
    [[nodiscard]] const std::vector<PitchClass>& notes() const { return notes_; }
    // Notes in an octave.
    [[nodiscard]] int size() const { return static_cast<int>(above_tonic_.size()); }
    // The note on a rung when rung 0 is at `tonic`.
    [[nodiscard]] Pitch pitch(int rung, Pitch tonic) const;
    // Chord tones in an octave, and the rung of the k-th chord tone (0 the lowest at or above the tonic).
    [[nodiscard]] int chord_size() const { return static_cast<int>(chord_rungs_.size()); }
    [[nodiscard]] int chord_rung(int k) const;

  private:
    Scale scale_;
    std::optional<ChordSymbol> chord_;
    std::vector<PitchClass> notes_;
    std::vector<Interval> above_tonic_;
    std::vector<int> chord_rungs_;
};

}  // namespace shedbook
