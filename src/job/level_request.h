// What a book or a sheet asks of the player.
#pragma once

#include <optional>
#include <string>

#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// Drills, material, number of chords, tempos and etude of a level. Its palette and its range are the caller's
// to use: they belong to the analysis and to the part.
void apply_level(const Level& level, BookOptions& options);

// How a tune is read for somebody of that level: with the level's palette of scales where none was asked for.
[[nodiscard]] TuneRequest as_at_level(TuneRequest request, int at);

// Sets what was asked. The plan lives in `plan`, which must outlast the options. InputError after the faults
// of a plan's file were said.
void apply(const LevelRequest& request, BookOptions& options, std::optional<BookPlan>& plan, Caller& caller);

// The plan of that name, or the first in that file.
[[nodiscard]] BookPlan plan_called(const std::string& name, Caller& caller);

}  // namespace shedbook
