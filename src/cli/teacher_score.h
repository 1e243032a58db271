// One drill of a tune for a whole class, in one score: everybody in his own transposition, bar under bar.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/write/score.h"

namespace shedbook {

// What `options` choose, without etude and plan. Over the first staff stand the chord and the scale as they
// sound; over every staff, the scale as it is read there. Nothing if no drill fits the notes that all have.
[[nodiscard]] std::optional<Score> teacher_score(const Tune& tune, const std::vector<BookPart>& parts,
                                                 const BookOptions& options, Diagnostics& diagnostics);

}  // namespace shedbook
