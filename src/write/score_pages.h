// A score in the engraver's language.
#pragma once

#include <string>

#include "shedbook/write/score.h"

namespace shedbook {

// Height of a staff, in tenths of a millimetre, that leaves a page enough room for all parts of a score.
[[nodiscard]] int staff_height(std::size_t parts);

// Of a score whose lines are broken: its pages turn where those of the MusicXML do.
[[nodiscard]] std::string score_pages(const Score& score, Paper paper);

}  // namespace shedbook
