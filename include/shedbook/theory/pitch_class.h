// A note name without its octave. It is one number, its place on the line of fifths, from which letter and
// accidental follow; so adding an interval spells the result, and nothing has to be looked up.
//
//     kC + kMinorThird == *parse_pitch_class("Eb");        // true; D# is another name
//     to_string(kC + Interval{3, 6});                      // "F#"
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

#include "shedbook/base/rational.h"
#include "shedbook/theory/interval.h"

namespace shedbook {

// The seven letters in order from C. The underlying number is the letter's place above C.
enum class Step { C, D, E, F, G, A, B };

[[nodiscard]] char letter(Step step);

class PitchClass {
  public:
    constexpr PitchClass() = default;
    // Place on the line of fifths: F is -1, C 0, G 1, ... B 5, F# 6, Bb -2.
    static constexpr PitchClass from_fifths(int fifths) {
        PitchClass out;
        out.fifths_ = fifths;
        return out;
    }
    static constexpr PitchClass of(Step step, int alter = 0) {
        constexpr int kFifths[7] = {0, 2, 4, -1, 1, 3, 5};
        return from_fifths(kFifths[static_cast<int>(step)] + 7 * alter);
    }

    [[nodiscard]] constexpr int fifths() const { return fifths_; }
    [[nodiscard]] constexpr Step step() const { return static_cast<Step>(modulo(4 * fifths_, 7)); }
    // Semitones raised (sharp, positive) or lowered (flat, negative).
    [[nodiscard]] constexpr int alter() const { return floor_div(fifths_ + 1, 7); }
    // 0 to 11 above C, the spelling gone.
    [[nodiscard]] constexpr int semitone() const { return modulo(7 * fifths_, 12); }

    friend constexpr PitchClass operator+(PitchClass a, Interval by) {
        return from_fifths(a.fifths_ + by.fifths());
    }
    friend constexpr PitchClass operator-(PitchClass a, Interval by) { return a + -by; }
    // The interval up from b to a, within an octave.
    friend constexpr Interval operator-(PitchClass a, PitchClass b) {
        const int steps = modulo(static_cast<int>(a.step()) - static_cast<int>(b.step()), 7);
        // semitones follow from fifths() = 7 * semitones - 12 * steps
        return {steps, (a.fifths_ - b.fifths_ + 12 * steps) / 7};
    }
    friend constexpr bool operator==(PitchClass, PitchClass) = default;
    // Along the line of fifths, flats first.
    friend constexpr auto operator<=>(PitchClass, PitchClass) = default;

  private:
    int fifths_ = 0;
};

inline constexpr PitchClass kC = PitchClass::of(Step::C);

// "Bb", "F#", "Ebb": plain ASCII.
[[nodiscard]] std::string to_string(PitchClass pitch_class);
// Letter A to G (capital) and accidentals # b x, signs of the music fonts too (♯ ♭ 𝄪 𝄫); the whole text.
[[nodiscard]] std::optional<PitchClass> parse_pitch_class(std::string_view text);
// The name with the fewest accidentals for a sounding note (0 to 11), nearest to `near` on the line of
// fifths.
[[nodiscard]] PitchClass simplest_name(int semitone, PitchClass near = kC);
// The name, or the plain one next to it if it has a double accidental.
[[nodiscard]] PitchClass without_double_accidental(PitchClass name);
// E#, B#, Cb, Fb and all names with more accidentals: fine as the degree of a scale, disliked elsewhere.
[[nodiscard]] bool is_awkward(PitchClass name);
// The name, or the plain one next to it if it is awkward.
[[nodiscard]] PitchClass plain_name(PitchClass name);

}  // namespace shedbook
