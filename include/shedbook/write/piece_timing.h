// Where everything begins in the sound of one piece, for a cursor that goes with it.
//
//     const PieceTiming timing = timing_of(drill, options);
//     timing.count_in;                                         // seconds until the first time through
#pragma once

#include <cstddef>
#include <vector>

#include "shedbook/base/rational.h"
#include "shedbook/notation/document.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

// In seconds. Of a ladder of tempos only the first is looked at.
struct PieceTiming {
    double count_in = 0;  // from the beginning of the file
    double pass = 0;      // once through
    int times = 1;
    int per_minute = 0;        // beats
    double beat_quarters = 1;  // how long such a beat is
    // Within a time through, in the order of playing.
    struct Bar {
        std::size_t measure = 0;  // of the written music, from 0
        double at = 0;
    };
    std::vector<Bar> bars;
    std::vector<double> beats;
    struct Onset {
        Rational quarters;  // of the written music, from its beginning
        double at = 0;
    };
    std::vector<Onset> onsets;  // where notes, rests and slashes of the upper staff begin
};

// Of a block with music.
[[nodiscard]] PieceTiming timing_of(const Block& piece, const SoundOptions& options);

}  // namespace shedbook
