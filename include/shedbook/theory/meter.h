// A meter as it is written: 4/4, 3/4, 6/8, 5/4 as 3+2.
//
//     Meter waltz{3, 4};
//     waltz.bar_length() == Duration{Rational{3, 4}};      // true
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/time.h"

namespace shedbook {

struct Meter {
    int beats = 4;                 // 1 to 64: the upper number
    int unit = 4;                  // the lower number: 1, 2, 4, 8, 16, 32
    std::vector<int> groups = {};  // inner division of an odd bar, in units ("3+2"); empty: the usual one

    [[nodiscard]] Duration bar_length() const { return {Rational{beats, unit}}; }
    [[nodiscard]] Duration unit_length() const { return {Rational{1, unit}}; }
    // What a metronome counts: a dotted quarter in 6/8 9/8 12/8, else the unit (a half in cut time).
    [[nodiscard]] Duration beat_length() const;
    [[nodiscard]] bool is_compound() const {
        return unit >= 8 && beats % 3 == 0 && beats > 3 && groups.empty();
    }
    // The bar in groups of units, the stated division or the usual one (5/4: 3+2, 7/8: 2+2+3, 6/8: 3+3, 4/4:
    // 2+2).
    [[nodiscard]] std::vector<int> grouping() const;
    friend bool operator==(const Meter&, const Meter&) = default;
};

// "4/4", "5/4"; groups as "3+2/4".
[[nodiscard]] std::string to_string(const Meter& meter);
// Reads "4/4", "3+2/8", "C" and "C|" (common and cut time).
[[nodiscard]] std::optional<Meter> parse_meter(std::string_view text);

}  // namespace shedbook
