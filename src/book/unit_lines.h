// The lines on the bars of a unit, for books of a tune and for sheets of a unit in many keys.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "drill_section.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"
#include "shedbook/book/etude.h"

namespace shedbook {

// A kind of line, and the level above which it is not asked for on units.
struct LineOfUnit {
    std::string_view kind;
    int most_level = kHighestLevel;
    bool has_own_version = false;  // as many bars again that are left empty
    bool from_third = false;       // guide tones: see EtudeRequest
};
// Guide tones are first of all the notes themselves.
inline constexpr LineOfUnit kPlainGuideTones{"guide-tones", 1};

// Three boxes and one more.
[[nodiscard]] EtudeBoxes boxes_on_units(const BookOptions& options);

// Some bars of a tune: written bars from 1, both ends in. They come to rest on a chord of the last one, as
// Reading::inst, where another stands behind it.
struct Passage {
    std::pair<int, int> bars;
    std::optional<int> rests_on = {};
};

// What is as short as that is played twice.
[[nodiscard]] int times_through(std::pair<int, int> bars);

// The notes of the second half are those of the first but for fewer than such a part of them, and one at
// least: nothing is learned from it. Of chords their highest notes count.
[[nodiscard]] bool repeats_itself(const WrittenMusic& music, Rational part);

class UnitLines {
  public:
    // Keeps all of them by reference.
    UnitLines(const Ensemble& ensemble, const BookOptions& options, Diagnostics& diagnostics)
        : ensemble_{ensemble}, options_{options}, diagnostics_{diagnostics} {}
    // On these bars as they come first, a bar or two of them twice; on the whole form where none are named.
    // Still without a number. Nothing where the range does not hold the kind, which is said once.
    [[nodiscard]] std::optional<Etude> make(const Tune& tune, const LineOfUnit& asked,
                                            const std::optional<Passage>& passage);

  private:
    [[nodiscard]] std::optional<Etude> at_half_speed(const Tune& tune, EtudeRequest request,
                                                     const EtudePaper& paper) const;

    const Ensemble& ensemble_;
    const BookOptions& options_;
    Diagnostics& diagnostics_;
    std::set<std::string> said_;  // kinds
};

}  // namespace shedbook
