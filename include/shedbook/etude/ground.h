// What an etude stands on: the bars to fill and, for each stretch of a chord, the notes to play on it.
//
//     EtudeGround ground = ground_of(timeline, analysis, {.choruses = 2});
//     ground.spans[0].notes;                                   // the scale of the first chord
//     ground.bars.size();                                      // bars of two choruses
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/chart/timeline.h"
#include "shedbook/harmony/analysis.h"

namespace shedbook {

// A stretch of the tune on which one scale is played; nothing where there is no chord: a rest.
struct ScaleSpan {
    Position at;
    Duration length;
    std::vector<PitchClass> notes;       // spelled; empty: rest
    std::vector<PitchClass> chord;       // where a line may come to rest, the root first
    std::vector<PitchClass> guide = {};  // third and seventh, or what stands for them
    std::vector<PitchClass> avoid = {};  // to pass over lightly
    std::optional<ChordSymbol> symbol = {};
    int inst = -1;  // written chord symbols from 0, as Reading::inst; -1: none of the tune's
};

struct GroundBar {
    Position at;
    Duration length;
    Meter meter;
    std::optional<int> section = {};  // index into Chart::sections, where one begins
    int number = 1;                   // as the chart counts its bars; again where a passage is repeated
};

struct GroundSymbol {
    Position at;
    std::optional<ChordSymbol> symbol;
};

struct EtudeGround {
    std::vector<ScaleSpan> spans;       // without gaps
    std::vector<GroundBar> bars;        // without gaps
    std::vector<GroundSymbol> symbols;  // where one is to be printed
    int choruses = 1;
    bool has_last_time = false;  // the last bar is none of the tune's: it comes home after a turnaround
    Duration length;             // of all
    Key home;                    // of the tune
};

struct GroundOptions {
    std::optional<std::pair<int, int>> bars = {};  // written bars from 1, both ends in; nothing: all
    int choruses = 1;                              // how often the whole, or those bars, are played
    bool once = false;  // of those bars only their first time, also where the tune repeats them
    // Where they come to rest: this chord, as Reading::inst. Behind it the last of those bars is silent, so
    // that nothing sounds into what follows in the tune; the symbol of that stands there.
    std::optional<int> rests_on = {};
    int bars_for_one = 1;  // 2: all lasts twice as long, in twice as many bars
};

// The choruses one after the other. A pickup is the melody's own bar: it is left out. A tune that ends on a
// dominant, to begin again, gets one bar more on its home chord, for the last time; not where only some bars
// are played.
[[nodiscard]] EtudeGround ground_of(const Timeline& timeline, const Analysis& analysis,
                                    const GroundOptions& options = {});
[[nodiscard]] bool has_chords(const EtudeGround& ground);
// The stretch that lies there, of a ground that has some; before all of them the first.
[[nodiscard]] const ScaleSpan& span_at(const EtudeGround& ground, Position at);

}  // namespace shedbook
