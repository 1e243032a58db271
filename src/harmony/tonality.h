// A key as it sounds: a pitch class and a ground. 36 of them are weighed against each other.
#pragma once

#include "chord_view.h"

namespace shedbook {

// A blues is a ground of its own: its I7 and IV7 do not lead anywhere.
enum class Ground { Major, Minor, Blues };
inline constexpr int kGrounds = static_cast<int>(count_of<Ground>());

struct Tonality {
    int tonic = 0;  // pitch class
    Ground ground = Ground::Major;
    friend bool operator==(const Tonality&, const Tonality&) = default;
};

// All of them in one row, ground by ground.
inline constexpr int kKeys = 12 * kGrounds;
[[nodiscard]] constexpr Tonality tonality(int key) {
    return {key % 12, static_cast<Ground>(key / 12)};
}
[[nodiscard]] constexpr int index_of(Tonality key) {
    return 12 * static_cast<int>(key.ground) + key.tonic;
}

// More than any reading costs: what was not tried.
inline constexpr double kUntried = 1e9;

// Steps between two signatures on the circle of fifths.
[[nodiscard]] int fifths_apart(Tonality a, Tonality b);

// Whether a chord can be the tonic chord of a key.
[[nodiscard]] bool is_tonic_chord(const ChordView& chord, Tonality key);
// A tonic with a flat seventh outside a blues, or without a third: it may as well lead on.
[[nodiscard]] bool is_doubtful_tonic(const ChordView& chord, Tonality key);

// Whether they are a dominant and a major or minor chord a fifth below, where it may come home.
[[nodiscard]] bool is_five_one(const ChordView& five, const ChordView& one);
// Whether they are a ii with its seventh and its V: a minor seventh or half-diminished chord, then a dominant
// a fifth below.
[[nodiscard]] bool is_two_five(const ChordView& two, const ChordView& five);

}  // namespace shedbook
