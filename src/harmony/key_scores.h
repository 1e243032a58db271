// What speaks for a key and against it, as numbers. They are data: the levels come from the books; the
// weights stand half-way between a first fit on chord charts with known keys and neutral ones, to two digits
// (docs/harmony.md says why), and tests/harmony/fit shows what they are worth on songs not seen. No number
// belongs to any one tune.
#pragma once

#include <array>

#include "tonality.h"

namespace shedbook {

struct KeyScores {
    // Cost of a beat of a chord by how near it is to the key: 0 its tonic, 9 what has no place in it.
    std::array<double, 10> level{0, 1, 1.5, 2, 4, 4.5, 5, 6.5, 8, 9};
    double duration = 0.6;  // a chord of n beats counts n to this power
    double change = 8.9;    // to change the key
    double at_section = 1;  // shares of that on the first beat of a section or of a phrase of four bars,
    double at_phrase = 1;
    double inside_bar = 1;       // and inside a bar
    double inside_two_five = 2;  // and between a ii and its V, which belong to one key
    double per_fifth = 1.2;      // and this more for each step on the circle of fifths
    double away_share = 8.9;     // for all of the tune away from home, in proportion
    double away = 0.5;           // to be away from home, per beat (to the power above)
    double minor = 1.4;          // against a minor home key, a blues: rarer, and easily mistaken for another
    double blues = 3.5;
    // For a home key.
    double stated = 24;        // the chart names it (a strong hint, not a law)
    double first_chord = 5.5;  // the tune begins on its tonic
    double last_chord = 5.5;   // ends on it
    double blues_form = 7.7;   // has_blues_form() on it
    double final_cadence = 6;  // its last cadence comes home
    double turns_back = 1.2;   // ends on its dominant and begins on its tonic
    // For a key where its tonic stands.
    double opens_section = 3.9;  // by a share of that where the section has less than four bars
    double rests = 2.4;          // it stands longer than the harmonies on both sides
    double opens_phrase = 2.1;
    double dominant_tonic = 0.75;       // share of that for a tonic with a flat seventh outside a blues
    double minor_seventh_tonic = 0.65;  // share for a minor seventh as i: it may as well be a ii
    double fifth_cadence = 3;           // V I
    double two_five_one = 4.2;          // more if its ii stood before
    double two_five = 0.32;             // ii V, whatever comes
    double half_step_cadence = 1.7;     // bII7 I
    double backdoor = 1.1;              // bVII7 I
    double plagal = 1.7;                // IV I, iv I
    double triad_share = 0.55;          // of a cadence whose V is a plain triad
    // Chords that borrow their right from the next chord, per beat instead of their level.
    double applied = 1;          // V7 of a chord of the key
    double related = 1.6;        // and the ii before it
    double substitute = 1.4;     // dominant a half step above a chord of the key
    double diminished_up = 1.2;  // diminished a half step below one
    // How sure a home is: costs divided by this and by the square root of the tune's length (its chords, each
    // counted as above) are logarithms of odds.
    double doubt = 0.84;
};

// What it costs to hear each sound on each degree (half steps over the tonic) of each ground, per beat.
using PlaceCosts = std::array<std::array<std::array<double, 12>, kSounds>, kGrounds>;
[[nodiscard]] PlaceCosts place_costs(const KeyScores& scores);

// How near a chord is to a key: 0 its tonic chord to 9 far out. `degree` is its root in half steps over the
// tonic.
[[nodiscard]] int nearness(Ground ground, Sound sound, int degree);
// Whether it is one of the key's own.
[[nodiscard]] bool is_of_key(Ground ground, Sound sound, int degree);

}  // namespace shedbook
