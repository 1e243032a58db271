// A search for the numbers of a key model, from a neutral start.
#pragma once

#include <string_view>
#include <vector>

#include "known_charts.h"
#include "near_table.h"

namespace shedbook {

struct Numbers {
    KeyScores scores;
    NearNumbers near;
    bool by_levels = false;  // how near chords lie by the compiled table instead of `near`
    [[nodiscard]] KeyModel model() const;
};

// Kinds of numbers, a letter each: N how near chords lie, K what a change of key costs, E the ends of the
// tune, C cadences and where a tonic stands, L chords that lead, B how sure; T: with the
// table of levels that is compiled in.
inline constexpr std::string_view kAllKinds = "NKECLB";

// Where every search begins: round numbers, the same for all of a kind.
[[nodiscard]] Numbers neutral_numbers();
// The compiled numbers moved this share of their way to the neutral ones, to two significant digits; nearness
// by the table of levels. Costs and gains move by ratio, shares (at most 1) by difference.
[[nodiscard]] Numbers shrunk_numbers(double share);
// The numbers of these kinds that serve the charts best, the rest left neutral.
[[nodiscard]] Numbers fitted_numbers(const std::vector<const KnownChart*>& charts, std::string_view kinds,
                                     unsigned seed, int trials);

}  // namespace shedbook
