// The figures of templates/band.toml, and how bars fall into parts that have some.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "shedbook/band/rhythm_section.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// A stroke of a figure: where and how long from the start of its part, and its sign in the file.
struct Stroke {
    Duration at;
    Duration length;  // as far as "-" goes on
    char sign = 'x';
};
using Strokes = std::vector<Stroke>;

// A part of a bar: a group of its beats, or all of it.
struct BarPart {
    Duration at;  // from the start of the bar
    Duration length;
    bool in_threes = false;
};

// Above any tempo, in quarters a minute.
inline constexpr int kNoTempo = 1000;
// Of how many phrases a style says how many have a push.
inline constexpr int kOfPhrases = 8;

// Of bass or chords.
struct BandFigure {
    Strokes strokes;
    int share = 1;
};
struct DrumFigure {
    // One a voice, and of each the bars that follow each other in turn.
    std::vector<std::pair<Drum, std::vector<Strokes>>> voices;
    int full = 1;
    int share = 1;
    // For a tempo from so many quarters a minute on, and below so many.
    int from = 0;
    int below = kNoTempo;
};

// Whether its bass walks, bar by bar something else, rather than keep to a figure for a section.
[[nodiscard]] bool has_walking_bass(BandStyle style);

// In how many of kOfPhrases phrases of four bars the band comes early into one of them.
[[nodiscard]] int pushed_phrases(BandStyle style);

// Those of a style for a part of a bar; of any style if it has none; empty if there is none at all.
[[nodiscard]] const std::vector<BandFigure>& bass_figures(BandStyle style, BassPulse pulse,
                                                          const BarPart& part);
[[nodiscard]] const std::vector<BandFigure>& chord_figures(BandStyle style, const BarPart& part);
// What everybody strikes on the last chord; of this style alone, empty if it just holds it.
[[nodiscard]] const std::vector<BandFigure>& ending_figures(BandStyle style, const BarPart& part);
[[nodiscard]] const std::vector<DrumFigure>& drum_figures(BandStyle style, bool is_fill, const BarPart& part);

// The whole bar where the style (or any) has figures for its length, else its groups.
[[nodiscard]] std::vector<BarPart> parts_of(const Meter& meter);

}  // namespace shedbook
