// A spelled note in its octave. Points and distances are different types: Pitch - Pitch is an Interval, Pitch
// + Interval is a Pitch, and Pitch + Pitch does not compile.
//
//     Pitch a_flat_4{PitchClass::of(Step::A, -1), 4};
//     to_string(a_flat_4 + kMinorThird);                   // "Cb5", not B4
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

#include "shedbook/theory/interval.h"
#include "shedbook/theory/pitch_class.h"

namespace shedbook {

class Pitch {
  public:
    constexpr Pitch() = default;
    // Octaves as in scientific pitch notation: C4 is middle C; B#3 sounds like C4, Cb4 like B3.
    constexpr Pitch(PitchClass name, int octave)
        : above_c0_{static_cast<int>(name.step()) + 7 * octave,
                    semitone_of(name.step()) + name.alter() + 12 * octave} {}
    explicit constexpr Pitch(Interval above_c0) : above_c0_{above_c0} {}

    [[nodiscard]] constexpr Interval above_c0() const { return above_c0_; }
    [[nodiscard]] constexpr PitchClass name() const { return kC + above_c0_; }
    [[nodiscard]] constexpr Step step() const { return name().step(); }
    [[nodiscard]] constexpr int alter() const { return above_c0_.alter(); }
    [[nodiscard]] constexpr int octave() const {
        const int steps = above_c0_.steps();
        return steps >= 0 ? steps / 7 : -((-steps + 6) / 7);
    }
    // MIDI key number: middle C is 60.
    [[nodiscard]] constexpr int midi() const { return above_c0_.semitones() + 12; }
    // Place on a staff: letters above C0, accidentals not counted.
    [[nodiscard]] constexpr int staff_place() const { return above_c0_.steps(); }

    friend constexpr Pitch operator+(Pitch a, Interval by) { return Pitch{a.above_c0_ + by}; }
    friend constexpr Pitch operator-(Pitch a, Interval by) { return Pitch{a.above_c0_ - by}; }
    friend constexpr Interval operator-(Pitch a, Pitch b) { return a.above_c0_ - b.above_c0_; }
    friend constexpr bool operator==(Pitch, Pitch) = default;
    // By sound; two spellings of one sound are ordered by letter.
    friend constexpr std::strong_ordering operator<=>(Pitch a, Pitch b) {
        if (a.midi() != b.midi()) return a.midi() <=> b.midi();
        return a.staff_place() <=> b.staff_place();
    }

  private:
    static constexpr int semitone_of(Step step) {
        constexpr int kSemitones[7] = {0, 2, 4, 5, 7, 9, 11};
        return kSemitones[static_cast<int>(step)];
    }
    Interval above_c0_;
};

// "Bb3", "F#4".
[[nodiscard]] std::string to_string(Pitch pitch);
// A name and an octave from -1 to 10; the whole text.
[[nodiscard]] std::optional<Pitch> parse_pitch(std::string_view text);
// The note with its plain name where it would need a double accidental.
[[nodiscard]] Pitch without_double_accidental(Pitch pitch);
// The same sound under this name, which must be one of it.
[[nodiscard]] Pitch renamed(Pitch pitch, PitchClass name);

// Two notes and everything between them; low <= high.
struct PitchRange {
    Pitch low;
    Pitch high;
    [[nodiscard]] constexpr bool holds(Pitch pitch) const {
        return low.midi() <= pitch.midi() && pitch.midi() <= high.midi();
    }
    friend constexpr bool operator==(const PitchRange&, const PitchRange&) = default;
};

}  // namespace shedbook
