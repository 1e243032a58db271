// Patterns as they are typed in a template: walks "bottom to top-1", rhythms "1/8 1/8 1/4", articulation
// "(o o) . .". Cells: pattern.h.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "shedbook/drill/pattern.h"

namespace shedbook {

// "bottom to top", "top-1 to bottom+1".
[[nodiscard]] bool parse_walk(std::string_view text, WalkEdge& from, WalkEdge& to);
// Lengths, or the name of one length: "eighths".
[[nodiscard]] std::optional<Rhythm> parse_rhythm(std::string_view text, PatternFault& fault);
[[nodiscard]] std::vector<std::string> rhythm_words();
[[nodiscard]] std::optional<ArticulationPattern> parse_articulation(std::string_view text,
                                                                    PatternFault& fault);

}  // namespace shedbook
