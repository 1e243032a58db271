// Readable symbols near to one that is not, for "did you mean".
#pragma once

#include <string>
#include <vector>

#include "chord_symbol_parser.h"

namespace shedbook {

[[nodiscard]] bool is_readable(const std::string& text);
// The readable symbol nearest to a text, or the two nearest, where the slip is of a kind that has one. A
// wrong beginning, a number that does not exist or qualities that contradict each other have none: any guess
// would be another chord.
[[nodiscard]] std::vector<std::string> nearest_symbols(Slip slip, std::string_view text, std::size_t begin,
                                                       std::size_t end);

}  // namespace shedbook
