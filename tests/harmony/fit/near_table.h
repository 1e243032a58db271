// What it costs to hear a chord in a key, worked out from ten numbers: another way to the costs that
// src/harmony/key_scores.cpp has as a table of levels.
#pragma once

#include "key_model.h"

namespace shedbook {

// The tonic chord costs nothing.
struct NearNumbers {
    double other = 1;            // any other chord
    double main_share = 0.5;     // share of that for IV and V
    double colour_note = 1;      // each note that comes and goes: b3 and b7 in major, 6 and 7 in minor
    double foreign_note = 1;     // each note that is none of the key
    double foreign_root = 1;     // and more if it is the root
    double wrong_third = 1;      // a minor chord on the tonic of a major key, a major one in minor
    double unstable = 1;         // diminished and augmented chords
    double no_third = 1;         // a fourth or nothing in place of the third
    double seventh_on_one = 1;   // a flat seventh on the tonic of a major key
    double smooth_on_blues = 1;  // a chord on I, IV or V of a blues without its flat seventh
};
[[nodiscard]] PlaceCosts place_costs(const NearNumbers& numbers);

}  // namespace shedbook
