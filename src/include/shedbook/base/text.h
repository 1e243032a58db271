// Small operations on UTF-8 text that several readers need.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace shedbook {

// Of ASCII, whatever the locale.
[[nodiscard]] constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
// Number of code points; bytes that are no valid UTF-8 count one each.
[[nodiscard]] std::size_t count_characters(std::string_view text);
// Length in bytes of the code point that begins at `at`; 1 for a byte that begins none.
[[nodiscard]] std::size_t character_length(std::string_view text, std::size_t at);
[[nodiscard]] bool is_valid_utf8(std::string_view text);
// Fit for a terminal: control characters but tabs, and bytes that are no UTF-8, as one '?' each. As many
// characters as before.
[[nodiscard]] std::string printable(std::string_view text);
[[nodiscard]] std::string_view trimmed(std::string_view text);
[[nodiscard]] std::string lower_case(std::string_view ascii);
// Lower case, with every run of spaces, underscores and hyphens as one hyphen: how ids and names are
// compared.
[[nodiscard]] std::string slug(std::string_view name);
[[nodiscard]] std::vector<std::string_view> split(std::string_view text, char separator);
[[nodiscard]] std::string join(const std::vector<std::string>& parts, std::string_view between);

// The candidate that takes the fewest single-character changes, if that is few enough to be a slip of the
// finger (a third of the word, at least 1); empty if none is. The first of equals wins.
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace shedbook
