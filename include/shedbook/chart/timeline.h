// A tune as it is played: repeats, endings and jumps taken, every chord with its place from the beginning and
// its length. What harmony and etudes read.
//
//     auto timeline = unfold(*chart, diagnostics);
//     timeline->chords[0].length;
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/time.h"
#include "shedbook/chart/chart.h"
#include "shedbook/chart/sounding_bars.h"

namespace shedbook {

// A chord sounding: from its place to the next one.
struct ChordSpan {
    int inst = 0;        // written chord symbols from 0 in written order, no-chords counted
    int bar = 0;         // written bar from 0
    int played_bar = 0;  // index into Timeline::bars
    Position in_bar;     // from the start of that bar, as written
    Position at;         // from the start of the tune as played
    Duration length;
    std::optional<ChordSymbol> symbol;  // nothing: no chord
    std::optional<Scale> fixed_scale;
    bool is_optional = false;
};

struct PlayedBar {
    int bar = 0;      // written bar from 0
    int section = 0;  // index into Chart::sections
    Position at;      // from the start of the tune as played
    Duration length;
    Meter meter;
};

struct Timeline {
    std::vector<ChordSpan> chords;  // in order of time, without gaps from the first chord on
    std::vector<PlayedBar> bars;
    std::vector<PlacedMelodyNote> melody;  // places as played
    Duration length;
};

// Most bars that a chart may unfold to: far more than any performance, few enough that nested repeats and a
// D.C. in the wrong place are found at once.
inline constexpr int kMostPlayedBars = 200'000;
// And most whole notes: as many as the most bars of 4/4 have.
inline constexpr int kLongestPlay = kMostPlayedBars;

// Written bars (from 0) in order of play. Nothing, with an error, if the signs contradict each other or never
// end.
[[nodiscard]] std::optional<std::vector<int>> order_of_play(const Chart& chart, Diagnostics& diagnostics);
// Everything moved by an interval.
[[nodiscard]] Timeline transposed(Timeline timeline, Interval by);
// Pushes, shared places and ties as sounding_bars.h says.
[[nodiscard]] std::optional<Timeline> unfold(const Chart& chart, Diagnostics& diagnostics);

}  // namespace shedbook
