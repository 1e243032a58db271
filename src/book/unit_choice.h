// Which units of a tune a book drills, and in what order.
#pragma once

#include <cstddef>
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
// `units` are kept by reference; `most_openings`: that there is room for.
[[nodiscard]] UnitChoice choose_units(const std::vector<PracticeUnit>& units, const UnitPieces& pieces,
                                      const BookOptions& options, std::size_t most_openings);

}  // namespace shedbook
