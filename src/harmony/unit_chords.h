// The chords of a tune as units are found among them: in written order, the same chord written again taken as
// one, each with its bars.
#pragma once

#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/chart/chart.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {

// Families as units tell them apart.
enum class UnitFamily { Major, Minor, HalfDiminished, Dominant, Diminished, None };

struct UnitChord {
    std::vector<const Reading*> readings;  // of the symbols that make it up; never empty
    UnitFamily family = UnitFamily::None;
    int root = 0;                   // pitch class; of a suspension over a bass, that bass
    int bass = 0;                   // pitch class
    bool has_foreign_bass = false;  // a bass that is no tone of it, and no suspension that resolves
    bool is_triad = false;
    bool is_tonic_minor = false;  // m6, m(maj7)
    int first_bar = 0;            // from 0: where it begins,
    int last_bar = 0;             // and the last one in which it sounds
    int section = 0;              // of its first bar
    int bar_of_section = 0;       // from 0
    Position at;                  // in written time
    Duration length;
    bool follows = false;  // right after the chord before it in this row, nothing between

    [[nodiscard]] const ChordSymbol& symbol() const { return readings.front()->symbol; }
    [[nodiscard]] const Key& key() const { return readings.front()->key; }
};

// Rows of chords that follow each other when the tune is played: the bars as written with first endings, and,
// where there are later endings, the bars before the brackets with the later one.
struct UnitRows {
    std::vector<std::vector<UnitChord>> rows;
    std::vector<int> bars_of_sections;  // how many bars each section has
    int bars = 0;
};
[[nodiscard]] UnitRows unit_chords(const Chart& chart, const Analysis& analysis);

[[nodiscard]] UnitFamily unit_family(const ChordSymbol& symbol);

}  // namespace shedbook
