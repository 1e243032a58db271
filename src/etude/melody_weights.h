// Weights of the search for composed lines: templates/melody_weights.toml, which says what each means.
#pragma once

#include <array>
#include <limits>

#include "figures.h"

namespace shedbook {

struct MelodyWeights {
    std::array<double, kFigures> figures{};
    // rhythm
    double vocabulary = 0;
    double long_note = 0;
    double short_rest = 0;
    double long_rest = 0;
    double unmet = 0;
    double late_start = 0;
    double lonely_end = 0;
    double untold_bar = 0;
    double crumb = 0;
    double unstruck = 0;
    double clipped = 0;
    double weak_long = 0;
    double torn = 0;
    double thin = 0;
    double tries_a_beat = 0;
    // melody
    double interval = 0;
    double long_avoid = 0;
    double two_leaps = 0;
    double outside_leap = 0;
    double outside_on_beat = 0;
    double outside_late = 0;
    double outside_other = 0;
    double outside_pair = 0;
    double trill = 0;
    double three_alike = 0;
    double phrase_end = 0;
    double motif = 0;
    double untold = 0;
    double unaltered = 0;
    double plain_chord = 0;
    double top_apart = 0;
    double stale = 0;
    double strong_other = 0;
    double long_other = 0;
    double told_late = 0;
    double strays = 0;
    double foreign_third = 0;
    double loose_leap = 0;
    double end_leap = 0;
    double leap_goes_on = 0;
    double hard_leap = 0;
    double struck_again = 0;
    double left_tense = 0;
    double begins_off = 0;
    double no_third = 0;
    double unstated = 0;
    double stated_late = 0;
    double denied = 0;
    double tries_a_note = 0;
};
[[nodiscard]] const MelodyWeights& melody_weights();

inline constexpr double kAnyCost = std::numeric_limits<double>::infinity();

// The cost of missing a figure by so many deviations: square near the aim, straight farther off.
[[nodiscard]] double cost_of_miss(double deviations);

}  // namespace shedbook
