// How a band goes about a performance: its choruses from few notes to many, and an ending that lands.
#pragma once

#include "feel.h"
#include "performance.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

struct BandPlace {
    Played as = Played::Tune;
    double quarters_per_minute = 120;
    std::optional<Key> key;  // as it sounds; nothing: not known
    unsigned seed = 1;
    int choruses = 1;  // in each time through
};

// Looks into the performance, which must last as long as it is used.
[[nodiscard]] RhythmSection plan_band(const Performance& piece, const Manner& manner, const BandPlace& place);

}  // namespace shedbook
