// About how many pages a book by units comes to, and what stays away where it would have too many. The pages
// themselves are planned by the writer that sets them; here only the systems are counted.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "shedbook/notation/written_music.h"
#include "unit_sittings.h"

namespace shedbook {

// `changes`: the tune as a rhythm part.
[[nodiscard]] int estimated_pages(const UnitSitting& book, const WrittenMusic& changes);

// Takes out, step by step, what a player misses least, until the estimate is at most so many: a piece where a
// unit runs over its page by little, short units from the easiest on, scales that few chords have, and then
// the easiest of the units with a page of its own becomes a short one, with these lines.
using ShortLines = std::function<std::vector<Etude>(std::size_t unit)>;
void keep_to_pages(UnitSitting& book, const WrittenMusic& changes, int most, const ShortLines& short_lines);

// Puts more lines on short units whose page would stay half empty, those that an opening has. Of a kind on a
// unit, without a number; empty: there is none.
using MoreLines = std::function<std::vector<Etude>(std::size_t unit, const std::string& kind)>;
void fill_pages(UnitSitting& book, const MoreLines& more_lines);

}  // namespace shedbook
