// A score in the engraver's language.
#pragma once

#include "engraver_text.h"
#include "shedbook/notation/pieces.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// Of a document of several parts whose lines are broken: its pages turn where those of the MusicXML do.
[[nodiscard]] EngraverText score_text(const Document& score, Paper paper);

}  // namespace shedbook
