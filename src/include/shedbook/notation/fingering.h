// Rows of fingerings, slide positions or frets under the notes of a piece.
//
//     add_fingerings(music, *find_instrument("trumpet"));
//     music.fingerings[0].text;                                // "12" under a written A
#pragma once

#include <optional>

#include "shedbook/notation/fingering_chart.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/notation/written_music.h"

namespace shedbook {

// Fills music.fingerings. Notes that the chart does not have stay without; music for an instrument without a
// chart stays as it is. `frets`: the part of the neck to stay in, where the notes allow it.
void add_fingerings(WrittenMusic& music, const Instrument& instrument,
                    const std::optional<FretSpan>& frets = std::nullopt);

}  // namespace shedbook
