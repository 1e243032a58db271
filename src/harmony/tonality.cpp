#include "tonality.h"

#include <algorithm>

namespace shedbook {

int fifths_apart(Tonality a, Tonality b) {
    const auto signature = [](Tonality key) {
        return modulo12(7 * (key.ground == Ground::Minor ? key.tonic + 3 : key.tonic));
    };
    const int up = modulo12(signature(a) - signature(b));
    return std::min(up, 12 - up);
}

bool is_doubtful_tonic(const ChordView& chord, Tonality key) {
    return (chord.sound == Sound::Dominant && key.ground != Ground::Blues) || chord.sound == Sound::Suspended;
}

bool is_tonic_chord(const ChordView& chord, Tonality key) {
    if (chord.root != key.tonic) return false;
    // Its fourth leaves the third open; with a flat seventh it leads, or it is the ground of a major mode.
    if (chord.sound == Sound::Suspended) return key.ground != Ground::Minor || (chord.tones & 1U << 10U) == 0;
    if (key.ground == Ground::Minor) return is_minor_sound(chord.sound);
    return is_major_sound(chord.sound) || chord.sound == Sound::Dominant;
}

bool is_two_five(const ChordView& two, const ChordView& five) {
    const bool can_be_two = two.sound == Sound::MinorSeventh || two.sound == Sound::HalfDiminished;
    return can_be_two && five.sound == Sound::Dominant && above(two.root, five.root) == 7;
}

bool is_five_one(const ChordView& five, const ChordView& one) {
    const bool can_be_one = is_major_sound(one.sound) || is_minor_sound(one.sound);
    return five.sound == Sound::Dominant && can_be_one && above(five.root, one.root) == 7;
}

}  // namespace shedbook
