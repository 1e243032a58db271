// Styles: what a beat holds, how much lies outside the scale, how the line moves. templates/etude_styles.toml
// has a row for each.
//
//     const EtudeStyleRow& waltz = etude_style(EtudeStyle::Waltz);
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "shedbook/etude/etude.h"

namespace shedbook {

struct BeatPattern {
    std::int8_t count = 0;
    std::array<std::int8_t, 4> onsets{};  // ticks
    double share = 0;                     // of beats within phrases
};
// The value that it is written in, where the beat is a quarter.
[[nodiscard]] Duration value_of(const BeatPattern& pattern);

struct EtudeStyleRow {
    // By Beat::Division: beats in two, in three, undivided. The first is the beat in which nothing begins,
    // the second the one of a single note on it.
    std::array<std::vector<BeatPattern>, 3> patterns;
    double density = 1;         // notes, against what players play in swing
    double outside = 1;         // notes outside the scale; 0: none
    double fourths = 1;         // fourths and fifths
    double off_tone = 0;        // cost of a note on a beat that is no chord tone
    double figures = 1;         // how much the figures of swing players count,
    double beats = 1;           // and those of what they do in a beat
    double held_over = 0;       // cost of a note begun off the beat and held over the next one
    double outside_triads = 1;  // as `outside`, in tunes of triads
};
[[nodiscard]] const EtudeStyleRow& etude_style(EtudeStyle style);

// Most chords are triads, and what is left of three quarters of the time are the sevenths that lead between
// them: dominants, sus chords among them.
[[nodiscard]] bool has_triads(const EtudeGround& ground);

}  // namespace shedbook
