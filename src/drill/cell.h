// Cells as they are typed in a template: "1 3 5 7", "c1 c2 2' run:1", "1 5 step-above:next half-below:next".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "shedbook/drill/drill_template.h"

namespace shedbook {

struct CellFault {
    std::size_t begin = 0;  // bytes in the text
    std::size_t end = 0;
    std::string message;
    std::string hint;
};

[[nodiscard]] std::optional<Cell> parse_cell(std::string_view text, CellFault& fault);
// "bottom to top", "top-1 to bottom+1".
[[nodiscard]] bool parse_walk(std::string_view text, WalkEdge& from, WalkEdge& to);

}  // namespace shedbook
