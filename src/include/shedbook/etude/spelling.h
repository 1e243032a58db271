// From a key number to a spelled note where it stands.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/etude/ground.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

// The note of the scale (or of the chord, if the scale has none) that sounds so; nothing if none does.
[[nodiscard]] std::optional<PitchClass> scale_name(const ScaleSpan& span, int midi);
// A name in the octave where it sounds as the key number.
[[nodiscard]] Pitch pitch_of(PitchClass name, int midi);
// A note outside the scale by the note it leads to: a half step below it takes the letter below, a step above
// it the letter above, so that it is written as it moves.
[[nodiscard]] Pitch leading_to(Pitch target, int midi);
// Behind a note of the same letter that sounds a whole step away it takes the letter between (E# D# D, not
// E# Eb D).
[[nodiscard]] Pitch apart_from(PitchClass before, Pitch note);

}  // namespace shedbook
