// The line that a hard unit has for the hands of an instrument of harmony, made of what the band plays under
// the others: which one, `line` in templates/speeds.toml says.
//
//     UnitHands hands{ensemble, options};
//     hands.make(tune, {{5, 8}})->title;                        // "Walking line" for a double bass
#pragma once

#include <optional>
#include <utility>

#include "comping.h"
#include "drill_section.h"
#include "shedbook/book/book.h"
#include "shedbook/notation/document.h"
#include "unit_lines.h"

namespace shedbook {

class UnitHands {
  public:
    // Keeps both by reference.
    UnitHands(const Ensemble& ensemble, const BookOptions& options)
        : ensemble_{ensemble}, options_{options} {}
    // On these bars as they come first, a bar or two of them twice where the second time
    // is another; still without a number. Nothing for instruments without such a line, where the range is too
    // narrow for it, and where several parts play together. Of walking lines there is the usual one alone.
    [[nodiscard]] std::optional<Etude> make(const Tune& tune, const Passage& passage,
                                            CompingStyle style = CompingStyle::Usual) const;

  private:
    [[nodiscard]] std::optional<Etude> make(const Tune& tune, const Passage& passage, CompingStyle style,
                                            int times) const;

    const Ensemble& ensemble_;
    const BookOptions& options_;
};

}  // namespace shedbook
