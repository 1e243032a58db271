// A chord reduced to what the judgement of keys and functions asks of it: where its root sounds, what kind of
// sound it is, how long it lasts and where in the form it stands. All numbers here are pitch classes in half
// steps, so moving a tune moves them all alike.
#pragma once

#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/chart/chart.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

enum class Sound {
    Major,  // triad, sixth, add9
    MajorSeventh,
    Dominant,  // major third and flat seventh, whatever its tensions
    Minor,     // triad
    MinorSeventh,
    MinorTonic,  // m6, m(maj7): what ends a minor cadence
    HalfDiminished,
    Diminished,  // triad or seventh
    Augmented,   // triad
    Suspended,   // no third, a fourth
    Open,        // root and fifth
};
template <>
inline constexpr Worded<Sound> kWords<Sound>[] = {{Sound::Major, "major"},
                                                  {Sound::MajorSeventh, "major-seventh"},
                                                  {Sound::Dominant, "dominant"},
                                                  {Sound::Minor, "minor"},
                                                  {Sound::MinorSeventh, "minor-seventh"},
                                                  {Sound::MinorTonic, "minor-tonic"},
                                                  {Sound::HalfDiminished, "half-diminished"},
                                                  {Sound::Diminished, "diminished"},
                                                  {Sound::Augmented, "augmented"},
                                                  {Sound::Suspended, "suspended"},
                                                  {Sound::Open, "open-fifth"}};
inline constexpr int kSounds = static_cast<int>(count_of<Sound>());

[[nodiscard]] inline double quarters(Duration length) {
    const Rational q = length / kQuarter;
    return static_cast<double>(q.num()) / static_cast<double>(q.den());
}
[[nodiscard]] Sound sound_of(unsigned tones);
[[nodiscard]] constexpr bool is_minor_sound(Sound sound) {
    return sound == Sound::Minor || sound == Sound::MinorSeventh || sound == Sound::MinorTonic;
}
[[nodiscard]] constexpr bool is_major_sound(Sound sound) {
    return sound == Sound::Major || sound == Sound::MajorSeventh;
}

[[nodiscard]] constexpr int modulo12(int semitones) {
    return (semitones % 12 + 12) % 12;
}
// A set with one sound in it, as sets of half steps over a root are kept.
[[nodiscard]] constexpr unsigned bit(int semitones) {
    return 1U << static_cast<unsigned>(semitones);
}
// Half steps up from b to a.
[[nodiscard]] constexpr int above(int a, int b) {
    return modulo12(a - b);
}

struct ChordView {
    int root = 0;                       // 0 to 11; of a chord that is heard from its bass up, that bass
    int bass = 0;                       // 0 to 11
    bool is_over_foreign_bass = false;  // the bass is no tone of the chord as it is written
    unsigned tones = 0;                 // half steps over the root, bit 0 the root
    Sound sound = Sound::Major;
    double beats = 0;        // quarter notes
    double stretch = 0;      // quarter notes of all neighbouring chords of the same root and sound together
    int bar = 0;             // of the tune as played, from 0
    bool opens_bar = false;  // on the first beat
    bool opens_section = false;  // first chord of a section
    int section_bars = 0;        // written bars of that section; 0 where none opens
    bool opens_phrase = false;   // on the first beat of every fourth bar of its section
    int next =
        -1;  // place of the next chord that differs in root or sound, round the form; -1 if there is none
    int prev = -1;  // the one before, not round the form
};

// The chord by itself, as it is written and as it is heard: root, bass, tones and sound.
[[nodiscard]] ChordView view_of(const ChordSymbol& written, const ChordSymbol& heard);

// One view per chord of the timeline that has a symbol; `span_of[i]` is its place in Timeline::chords.
struct ChordViews {
    std::vector<ChordView> chords;
    std::vector<ChordSymbol> heard;  // what each sounds as between its neighbours
    std::vector<int> span_of;
};
[[nodiscard]] ChordViews view_of(const Chart& chart, const Timeline& timeline);
// Fills next, prev and stretch.
void link(std::vector<ChordView>& chords);

}  // namespace shedbook
