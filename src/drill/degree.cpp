#include "shedbook/drill/degree.h"

#include <algorithm>
#include <initializer_list>

namespace shedbook {
namespace {

constexpr std::size_t kSecond = 1;
constexpr std::size_t kThird = 2;
constexpr std::size_t kFourth = 3;
constexpr std::size_t kFifth = 4;
constexpr std::size_t kSixth = 5;
constexpr std::size_t kSeventh = 6;

std::optional<int> first_of(std::initializer_list<int> wanted, SoundsAbove notes) {
    for (const int sounding : wanted) {
        if (notes[static_cast<std::size_t>(sounding)]) return sounding;
    }
    return std::nullopt;
}

}  // namespace

SoundsAbove sounds_above(const std::vector<PitchClass>& notes, PitchClass note) {
    SoundsAbove out;
    for (const PitchClass one : notes)
        out.set(static_cast<std::size_t>((one.semitone() - note.semitone() + 12) % 12));
    return out;
}

Degrees own_degrees(const std::vector<PitchClass>& chord, PitchClass root) {
    Degrees out;
    for (const PitchClass note : chord) {
        const auto letter = static_cast<std::size_t>((note - root).steps());
        const bool is_stacked = letter == kThird || letter == kFifth || letter == kSeventh;
        if (is_stacked && !out[letter]) out[letter] = (note.semitone() - root.semitone() + 12) % 12;
    }
    return out;
}

bool is_sus(const std::vector<PitchClass>& chord, PitchClass root) {
    const SoundsAbove sounds = sounds_above(chord, root);
    return sounds[5] && !sounds[3] && !sounds[4];
}

Degrees degrees_above(SoundsAbove notes, const Degrees& own) {
    Degrees out = own;
    out[0] = 0;
    const auto take = [&](std::size_t degree, std::initializer_list<int> wanted) {
        if (!out[degree]) out[degree] = first_of(wanted, notes);
    };
    // Where the next note is an augmented second away, the one behind it is the third.
    if (!notes[1] && !notes[2] && notes[3]) take(kThird, {4});
    // A minor third and an augmented fifth are a major triad turned over, no triad of this note.
    if (!notes[6] && !notes[7] && notes[8]) take(kThird, {4});
    take(kThird, {3, 4});
    // Thirds upon thirds: only over a major third does an augmented fifth come before a diminished one.
    if (out[kThird] == 4) take(kFifth, {7, 8, 6});
    take(kFifth, {7, 6, 8});
    if (out[kFifth] == 6) take(kSeventh, {10, 9, 11});
    take(kSeventh, {10, 11, 9});
    take(kSecond, {1, 2});
    if (out[kThird] == 4) take(kSecond, {3});
    take(kFourth, {5});
    if (out[kFifth] != 6) take(kFourth, {6});
    if (out[kSeventh] != 9) take(kSixth, {9});
    if (out[kFifth] != 8) take(kSixth, {8});
    return out;
}

}  // namespace shedbook
