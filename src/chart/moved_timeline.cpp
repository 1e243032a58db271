#include "shedbook/chart/timeline.h"

namespace shedbook {

Timeline transposed(Timeline timeline, Interval by) {
    for (ChordSpan& span : timeline.chords) {
        if (span.symbol) span.symbol = transposed(*span.symbol, by);
        if (span.fixed_scale) span.fixed_scale->tonic = span.fixed_scale->tonic + by;
    }
    for (PlacedMelodyNote& note : timeline.melody) note.pitch = note.pitch + by;
    return timeline;
}

}  // namespace shedbook
