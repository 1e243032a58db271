// What speaks for a key and against it, as numbers. They are data: the levels come from the books, their
// weights were fitted by tests/fit (on chord charts whose keys are known), and no number belongs to any one
// tune.
#pragma once

#include <array>

#include "chord_view.h"

namespace shedbook {

// A blues is a ground of its own: its I7 and IV7 do not lead anywhere.
enum class Ground { Major, Minor, Blues };
inline constexpr int kGrounds = 3;

struct KeyScores {
    // Cost of a beat of a chord by how near it is to the key: 0 its tonic, 9 what has no place in it.
    std::array<double, 10> level{0, 1.5, 1.19, 3, 4, 5, 4.8, 10.5, 5.33, 9};
    double duration = 0.596;   // a chord of n beats counts n to this power
    double change = 8;         // to change the key
    double per_fifth = 0.899;  // and this more for each step on the circle of fifths
    double away_share = 0.5;   // for all of the tune away from home, in proportion
    double away = 0.393;       // to be away from home, per beat (to the power above)
    double minor = 2.09;       // against a minor home key, a blues: rarer, and easily mistaken for another
    double blues = 6.37;
    // For a home key.
    double stated = 12;         // the chart names it (a strong hint, not a law)
    double first_chord = 10.7;  // the tune begins on its tonic
    double last_chord = 6.72;   // ends on it
    double blues_form =
        25.5;  // every twelve bars hold I, IV in the fifth, I in the seventh, V near the ninth
    double final_cadence = 9.57;  // its last cadence comes home
    double turns_back = 0.103;    // ends on its dominant and begins on its tonic
    // For a key where its tonic stands.
    double opens_section = 1;
    double opens_phrase = 0.248;
    double dominant_tonic = 2.94;      // share of that for a tonic with a flat seventh outside a blues
    double fifth_cadence = 0.214;      // V I
    double two_five_one = 6.71;        // more if its ii stood before
    double two_five = 0;               // ii V, whatever comes
    double half_step_cadence = 0.343;  // bII7 I
    double backdoor = 0.424;           // bVII7 I
    double plagal = 2.01;              // IV I, iv I
    double triad_share = 0.864;        // of a cadence whose V is a plain triad
    // Chords that borrow their right from the next chord, per beat instead of their level.
    double applied = 0.856;    // V7 of a chord of the key
    double related = 4.24;     // and the ii before it
    double substitute = 2.49;  // dominant a half step above a chord of the key
    double diminished_up = 3;  // diminished a half step below one
};

[[nodiscard]] const KeyScores& key_scores();

// How near a chord is to a key: 0 its tonic chord to 9 far out. `degree` is its root in half steps over the
// tonic.
[[nodiscard]] int nearness(Ground ground, Sound sound, int degree);

}  // namespace shedbook
