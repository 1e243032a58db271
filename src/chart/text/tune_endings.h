// Numbers beside a bar line: of an ending ("1.", "1.,2.", "1-3.") and how often a passage is played ("x3").
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tune_tokens.h"

namespace shedbook {

// What the first of the words say; the rest are left alone. A number that runs into a word ("|1.Dm7") is cut
// off it.
struct BarNumbers {
    std::vector<int> endings;
    std::optional<int> times;
    std::size_t words = 0;  // how many are used up
    std::optional<Span> bad_ending;
    std::optional<Span> bad_times;
};
// `sign_end` is where the bar sign before the words ends: an ending needs its full stop unless it stands
// right behind it. Counts are looked for only after a repeat sign.
[[nodiscard]] BarNumbers take_bar_numbers(std::span<TuneToken> words, std::size_t sign_end, bool repeats);

// "1.", "1,2.", "1-3."
[[nodiscard]] std::string endings_text(const std::vector<int>& numbers);

}  // namespace shedbook
