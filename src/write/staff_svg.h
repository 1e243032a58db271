// Notes as drawings that need no engraver: for readers who run no scripts.
#pragma once

#include <string>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// A piece as one <svg> element, as wide as a phone: staff, clef, key, meter, notes with stems, beams, dots,
// accidentals and ties, rests, bar lines, chord symbols; a left hand stands beneath. Not drawn are slurs,
// fingerings and words. Clefs, heads, rests, flags and accidentals are those that phone.html defines.
// `name`: what a reader says that sees no drawing.
[[nodiscard]] std::string staff_svg(const WrittenMusic& music, const std::string& name);

}  // namespace shedbook
