// About how many pages a book by units comes to, and what stays away where it would have too many. The pages
// themselves are planned by the writer that sets them; here only the systems are counted.
#pragma once

#include <cstddef>
#include <functional>
#include <set>
#include <string>
#include <vector>

#include "shedbook/notation/written_music.h"
#include "unit_sittings.h"

namespace shedbook {

// `changes`: the tune as a rhythm part.
[[nodiscard]] int estimated_pages(const UnitSitting& book, const WrittenMusic& changes);

// Takes out a piece where a unit runs over its page by little, and then, step by step, what a player misses
// least, until the estimate is at most so many: short units, scales that few chords have, and then the last
// of the units with a page of its own becomes a short one, with fewer lines. Of the short units goes the one
// that has the fewest bars for itself, or the last one; one with four bars and more only where nothing else
// is left.
struct UnitsOfBook {
    std::function<std::vector<Etude>(std::size_t unit)> short_lines;
    std::function<std::set<int>(std::size_t unit)> bars;
    bool last_goes_first = false;
};
void keep_to_pages(UnitSitting& book, const WrittenMusic& changes, int most, const UnitsOfBook& units);

// Puts more lines on short units whose page would stay half empty, those that an opening has. Of a kind on a
// unit, without a number; empty: there is none.
using MoreLines = std::function<std::vector<Etude>(std::size_t unit, const std::string& kind)>;
void fill_pages(UnitSitting& book, const MoreLines& more_lines);

// Puts further sets of notes where the last page of scales has room for them: of the set that is asked for,
// its drills; empty: there is none.
using MoreNotes = std::function<std::vector<Drill>(std::size_t set)>;
void fill_page_of_notes(UnitSitting& book, std::size_t sets, const MoreNotes& more_notes);

}  // namespace shedbook
