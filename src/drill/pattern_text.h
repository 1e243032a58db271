// Patterns as they are typed in a template: cells "1 3 5 7", "c1 c2 2' run:1", walks "bottom to top-1",
// rhythms "1/8 1/8 1/4", articulation "(o o) . .".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "shedbook/drill/pattern.h"

namespace shedbook {

struct PatternFault {
    std::size_t begin = 0;  // bytes in the text
    std::size_t end = 0;
    std::string message;
    std::string hint;
};

[[nodiscard]] std::optional<DrillCell> parse_cell(std::string_view text, PatternFault& fault);
// "bottom to top", "top-1 to bottom+1".
[[nodiscard]] bool parse_walk(std::string_view text, WalkEdge& from, WalkEdge& to);
// Lengths, or the name of one length: "eighths".
[[nodiscard]] std::optional<Rhythm> parse_rhythm(std::string_view text, PatternFault& fault);
[[nodiscard]] std::vector<std::string> rhythm_words();
[[nodiscard]] std::optional<ArticulationPattern> parse_articulation(std::string_view text,
                                                                    PatternFault& fault);

}  // namespace shedbook
