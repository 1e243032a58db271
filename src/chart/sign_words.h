// The words that a text chart uses for the signs of the form, and how they are printed.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/chart/chart.h"

namespace shedbook {

struct FoundSign {
    FormSign sign = FormSign::Segno;
    std::size_t words = 1;  // how many of the words given belong to it
};

// The sign that begins with the first word, the longest there is; case and full stops do not count.
[[nodiscard]] std::optional<FoundSign> find_sign(std::span<const std::string_view> words);
// The words of all signs, for suggestions.
[[nodiscard]] std::vector<std::string> sign_words();

}  // namespace shedbook
