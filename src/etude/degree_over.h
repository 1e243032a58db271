// What a number means over a chord: 3 is the third of every chord, whatever its scale has between its tones.
#pragma once

#include "chord_facts.h"
#include "shedbook/etude/ground.h"
#include "shedbook/theory/interval.h"

namespace shedbook {

[[nodiscard]] inline PitchClass root_of(const ScaleSpan& span) {
    return span.symbol ? span.symbol->root : span.notes.front();
}
// So many letters above the root: the tone that the chord has there, else the note of its scale, else that of
// a scale that fits the chord.
[[nodiscard]] Interval degree_over(const ScaleSpan& span, const ChordFacts& facts, int steps);

}  // namespace shedbook
