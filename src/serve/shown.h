// Documents as a page lists them: sections, pieces with their boxes and items, and where the player stands.
#pragma once

#include <string>

#include "desk.h"
#include "documents.h"
#include "shedbook/job/jobs.h"
#include "shedbook/log/standing.h"

namespace shedbook {

// From a document as it was assembled: pieces that are to be played from memory with all of their notes,
// which the page hides itself. `described` has its form and its sections.
[[nodiscard]] ShownDocument shown_document(BookOnScreen book);

// Where the player stands with a piece, its boxes with it, and the tempos to begin with and to go on by.
[[nodiscard]] Data standing_of(const Desk& desk, const PrintedPiece& piece);
[[nodiscard]] Data instrument_as_data(const Instrument& instrument);
// Of each piece: {"1.2": {...}}.
[[nodiscard]] Data::Object standings_of(const Desk& desk, const ShownDocument& shown);
// The piece of that number; null if there is none.
[[nodiscard]] const PrintedPiece* piece_called(const ShownDocument& shown, const std::string& number);

// Its answer: id, what was described, and the standings of this moment.
[[nodiscard]] Data::Object answer_for(const Desk& desk, const ShownDocument& shown);

}  // namespace shedbook
