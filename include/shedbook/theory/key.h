// A key: a tonic and a mode. Signatures count fifths: two flats are -2.
//
//     signature(Key{*parse_pitch_class("D"), Mode::Dorian});   // 0
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "shedbook/theory/pitch_class.h"

namespace shedbook {

enum class Mode { Major, Minor, Dorian, Phrygian, Lydian, Mixolydian, Aeolian, Locrian };

struct Key {
    PitchClass tonic;
    Mode mode = Mode::Major;
    friend constexpr bool operator==(const Key&, const Key&) = default;
};

// Sharps (positive) or flats (negative) of the signature.
[[nodiscard]] int signature(Key key);
// The alteration that a signature gives a letter: +1, 0 or -1 (more where it has more than seven
// accidentals).
[[nodiscard]] int signature_alter(int fifths, Step step);
// Whether a note needs no accidental in the key.
[[nodiscard]] bool is_in_signature(Key key, PitchClass note);
// The key, or its other name if it has no signature: G# major would have eight sharps, so it is Ab major.
[[nodiscard]] Key within_signatures(Key key);
// "major", "minor", "dorian" ...
[[nodiscard]] std::string to_string(Mode mode);
[[nodiscard]] std::optional<Mode> parse_mode(std::string_view text);
// "Bb major"; "Bb", "Gm", "G minor", "D dorian", "D-dorian" can be read.
[[nodiscard]] std::string to_string(Key key);
[[nodiscard]] std::optional<Key> parse_key(std::string_view text);
// Whether a mode has a minor third over its tonic.
[[nodiscard]] bool is_minor(Mode mode);

}  // namespace shedbook
