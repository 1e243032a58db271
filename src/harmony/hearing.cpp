#include "hearing.h"

#include <algorithm>

namespace shedbook {
namespace {

bool can_be_two(Sound sound) {
    return sound == Sound::MinorSeventh || sound == Sound::HalfDiminished || sound == Sound::Minor;
}

// Bars: a section of fewer speaks less by what opens it.
constexpr double kShortSection = 4;

}  // namespace

double Hearing::gain(int i, Tonality key) const {
    const ChordView& chord = at(i);
    if (is_tonic_chord(chord, key)) return arrival(i, key);
    if (chord.sound == Sound::Dominant && degree(i, key) == 7) return preparation(chord.prev, key);
    return 0;
}

double Hearing::place(int i, Tonality key) const {
    const double own = places_[static_cast<std::size_t>(key.ground)][static_cast<std::size_t>(at(i).sound)]
                              [static_cast<std::size_t>(degree(i, key))];
    return std::min(own, leading(i, key));
}

double Hearing::leading(int i, Tonality key) const {
    const ChordView& chord = at(i);
    if (chord.next < 0) return kUntried;
    const ChordView& next = at(chord.next);
    const int fall = above(chord.root, next.root);
    const bool dominant = chord.sound == Sound::Dominant;
    if (next.root == key.tonic) {
        return dominant && fall == 1 && is_tonic_chord(next, key) ? scores_.substitute / 2 : kUntried;
    }
    const bool own = belongs(chord.next, key);
    if (fall == 7 && dominant && reaches_key(chord.next, key)) return scores_.applied;
    if (own && fall == 7 && chord.sound == Sound::Major) return scores_.applied + scores_.triad_share;
    if (own && fall == 1 && dominant) return scores_.substitute;
    if (own && fall == 11 && chord.sound == Sound::Diminished) return scores_.diminished_up;
    if (is_two_five(chord, next) && next.next >= 0) {
        const ChordView& goal = at(next.next);
        if (above(next.root, goal.root) == 7 && goal.root != key.tonic && belongs(next.next, key)) {
            return scores_.related;
        }
    }
    return kUntried;
}

// A chord of the key, or a dominant that falls by fifths through others to one (C7 F7 Bb7 Eb7 Ab in Ab).
bool Hearing::reaches_key(int i, Tonality key) const {
    constexpr int kLongestChain = 6;
    for (int steps = 0; steps < kLongestChain; ++steps) {
        if (belongs(i, key)) return true;
        const ChordView& chord = at(i);
        if (chord.sound != Sound::Dominant || chord.next <= i) return false;
        if (above(chord.root, at(chord.next).root) != 7) return false;
        i = chord.next;
    }
    return false;
}

// Whether its harmony stands longer than those on both sides.
bool Hearing::rests(const ChordView& chord) const {
    if (chord.prev < 0 || chord.next < 0) return false;
    return std::max(at(chord.prev).stretch, at(chord.next).stretch) < chord.stretch;
}

// What a tonic chord gains by where it stands and by what led to it.
double Hearing::arrival(int i, Tonality key) const {
    const ChordView& chord = at(i);
    double gain = 0;
    if (chord.opens_section)
        gain += scores_.opens_section * std::min(1.0, chord.section_bars / kShortSection);
    if (chord.prev == i - 1 && rests(chord)) gain += scores_.rests;
    if (chord.opens_phrase) gain += scores_.opens_phrase;
    if (i > 0 && chord.prev >= 0) gain += cadence(chord.prev, key);
    if (key.ground == Ground::Minor && chord.sound == Sound::MinorSeventh)
        gain *= scores_.minor_seventh_tonic;
    return is_doubtful_tonic(chord, key) ? gain * scores_.dominant_tonic : gain;
}

double Hearing::cadence(int before, Tonality key) const {
    const ChordView& chord = at(before);
    const int d = degree(before, key);
    if (d == 7 && (chord.sound == Sound::Dominant || chord.sound == Sound::Suspended)) {
        const bool two = chord.prev >= 0 && degree(chord.prev, key) == 2 && can_be_two(at(chord.prev).sound);
        return scores_.fifth_cadence + (two ? scores_.two_five_one : 0);
    }
    if (d == 7 && chord.sound == Sound::Major) return scores_.fifth_cadence * scores_.triad_share;
    if (d == 1 && chord.sound == Sound::Dominant) return scores_.half_step_cadence;
    if (d == 10 && chord.sound == Sound::Dominant) return scores_.backdoor;
    return d == 5 ? scores_.plagal : 0;
}

double Hearing::preparation(int before, Tonality key) const {
    if (before < 0 || degree(before, key) != 2) return 0;
    const Sound expected = key.ground == Ground::Minor ? Sound::HalfDiminished : Sound::MinorSeventh;
    return at(before).sound == expected ? scores_.two_five : 0;
}

}  // namespace shedbook
