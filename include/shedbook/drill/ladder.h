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
    // Without a chord, the first, third, fifth and seventh notes count as its tones. `home` is the tonic of
    // the tune, for what is taken from its key; without it, the chord is its own key.
    ScaleLadder(const Scale& scale, const std::optional<ChordSymbol>& chord,
                std::optional<PitchClass> home = {});

    // A note of another ladder over the same chord; `falling` is its name on the way down, where that
    // differs.
    struct Note {
        PitchClass name;
        std::optional<PitchClass> falling;
    };
    // Other notes over the same chord, rising from the first, within an octave.
    [[nodiscard]] ScaleLadder with_notes(const std::vector<Note>& notes) const;
    // The same with these rungs as chord tones.
    [[nodiscard]] ScaleLadder with_chord_rungs(std::vector<int> rungs) const;

    // What the section is about; a ladder of other notes keeps it.
    [[nodiscard]] const Scale& scale() const { return scale_; }
    [[nodiscard]] const std::optional<ChordSymbol>& chord() const { return chord_; }
    [[nodiscard]] std::optional<PitchClass> home() const { return home_; }
    // The notes as they are spelled over the chord, from rung 0 up.
    [[nodiscard]] const std::vector<PitchClass>& notes() const { return notes_; }
    // Notes in an octave.
    [[nodiscard]] int size() const { return static_cast<int>(notes_.size()); }
    // The note on a rung when rung 0 is at `bottom`.
    [[nodiscard]] Pitch pitch(int rung, Pitch bottom) const;
    // The same where the line goes down from it.
    [[nodiscard]] bool has_falling_names() const { return !falling_.empty(); }
    [[nodiscard]] Pitch falling_pitch(int rung, Pitch bottom) const;
    // Degree of the scale's tonic that a rung is: players count degrees, not notes.
    [[nodiscard]] int degree(int rung) const;
    // Chord tones in an octave, and the rung of the k-th chord tone (0 the lowest at or above rung 0).
    [[nodiscard]] int chord_size() const { return static_cast<int>(chord_rungs_.size()); }
    [[nodiscard]] int chord_rung(int k) const;
    // The k-th chord tone at or above a rung.
    [[nodiscard]] int chord_tone_at(int rung) const;

  private:
    Scale scale_;
    std::optional<ChordSymbol> chord_;
    std::optional<PitchClass> home_;
    std::vector<PitchClass> notes_;
    std::vector<Interval> above_;    // rung 0
    std::vector<Interval> falling_;  // the same with the names on the way down; empty: the same names
    std::vector<int> degrees_;
    std::vector<int> chord_rungs_;
};

}  // namespace shedbook
