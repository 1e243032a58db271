// The bass of the band as a line to read: over the bars of a ground, to an end.
#pragma once

#include <optional>

#include "shedbook/band/accompaniment.h"
#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// The chords and bars of a ground as the band has them.
[[nodiscard]] std::vector<BandChord> band_chords(const EtudeGround& ground);
[[nodiscard]] std::vector<BandBar> band_bars(const EtudeGround& ground);

// On each change its bass; the last chord comes to rest on its own, in its last bar. Spelled by scale and
// chord of each place, what passes by the note it leads to. A second
// chorus goes another way. Nothing if the range has no octave in common with
// that of the band's bass, or if there is no chord.
[[nodiscard]] std::optional<ConcertLine> walking_line(const EtudeGround& ground, const PitchRange& range,
                                                      BassFeel feel, unsigned seed);

}  // namespace shedbook
