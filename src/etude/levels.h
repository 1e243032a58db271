// The levels of the kinds, as templates/etudes.toml has them.
#pragma once

#include <string_view>
#include <vector>

#include "shedbook/etude/etude.h"

namespace shedbook {

struct EtudeLevel {
    Duration note = kEighth;  // the value it moves in; of composed lines the finest
    int span = 0;             // semitones of the range it uses; 0: all
    int ornament = 0;         // as each kind understands it
    int leap = 12;            // largest, in semitones
    bool outside = true;      // may leave the scale
    double demand = 0;        // -1 to 1, see character.h
    double plain = 0;  // how far it keeps to the chords and to whole phrases, 0 as players do, 1 strictly
};

[[nodiscard]] const EtudeLevel& etude_level(const EtudeRequest& request);
// The middle part of a range, no wider than so many semitones.
[[nodiscard]] PitchRange middle_part(PitchRange range, int span);
// The part so wide that begins so many semitones above the lowest note; it must lie in the range.
[[nodiscard]] PitchRange part_from(PitchRange range, int above, int span);
// No line needs more of an instrument: four octaves (a piano has seven).
inline constexpr int kWidestLine = 48;
// The middle of the range, no wider than the level's span.
[[nodiscard]] PitchRange range_at(const EtudeLevel& level, PitchRange range);

}  // namespace shedbook
