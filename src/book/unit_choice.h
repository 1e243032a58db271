// Which units of a tune a book drills, and in what order.
#pragma once

#include <cstddef>
#include <set>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/harmony/units.h"
#include "unit_pieces.h"

namespace shedbook {

struct UnitChoice {
    struct Chosen {
        const PracticeUnit* unit;
        std::vector<const PracticeUnit*> also = {};  // units that are drilled in the same bars
    };
    std::vector<Chosen> chosen;                 // the hardest first; for beginners the easiest
    std::vector<const PracticeUnit*> left_out;  // so long that they are practised with the form
    std::size_t openings = 0;                   // so many of the first are worth two facing pages
};
// The written bars, from 1, of all its places.
[[nodiscard]] std::set<int> bars_of_all_places(const PracticeUnit& unit);

// Indices of those chosen, in the order in which a book with little room should take them: the openings, then
// what stands in the most bars that nothing before it has. Who begins takes the easy ones first.
[[nodiscard]] std::vector<std::size_t> by_bars_served(const UnitChoice& choice, bool is_for_beginners);

// `units` are kept by reference; `most_openings`: that there is room for.
[[nodiscard]] UnitChoice choose_units(const TuneUnits& units, const UnitPieces& pieces,
                                      const BookOptions& options, std::size_t most_openings);

}  // namespace shedbook
