// How a line lies under the hand: what is awkward at speed on an instrument.
//
//     Handling handling{.awkward = costs, .from = 5};
//     handling.cost(trombone_b_flat, trombone_b, 0.15);        // seven positions in a seventh of a second
#pragma once

#include <cstddef>
#include <vector>

#include "shedbook/theory/pitch.h"

namespace shedbook {

struct Speeds;
inline constexpr int kSlowestBox = 60;  // per cent of an etude's own tempo, to begin with

struct Handling {
    static constexpr std::size_t kKeys = 128;  // MIDI key numbers
    std::vector<float> awkward = {};  // from each key (row) to each: kKeys * kKeys; empty: nothing is
    double from = 0;                  // notes a second from which it counts in full; 0: always
    int leap = 0;                     // widest of composed lines, in half steps; 0: as the level has it
    double fastest = 0;  // notes a second that last; composed lines have little more; 0: as their tempo lets
    bool sings = false;  // no augmented step or leap
    bool slurs = false;  // lines of the first levels show slurs
    bool breathes = false;           // the player needs places to breathe
    const Speeds* speeds = nullptr;  // of drill/speeds.h, which live for ever; null: the usual ones

    [[nodiscard]] bool is_easy() const { return awkward.empty() && !sings; }
    // What it costs to go from one key to another, `seconds` after it.
    [[nodiscard]] double cost(int from_key, int to_key, double seconds) const;
    // The same of spelled notes: augmented steps and leaps count where they are sung.
    [[nodiscard]] double cost(Pitch before, Pitch note, double seconds) const;
};
inline constexpr double kAugmentedStep = 6;  // the cost of an augmented step that is sung
// A second, a fourth, a fifth and so on that is a half step too wide.
[[nodiscard]] bool is_augmented(Interval interval);

}  // namespace shedbook
