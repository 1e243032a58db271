// A text that a person wrote, with its name, and places in it. Every parsed thing keeps the Span it came
// from, so that an error found late still points home.
//
//     SourceText source{"waltz.tune", "| Dm7 | Gx7 |\n"};
//     source.place_of(8).column;                // 9
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace shedbook {

// Bytes [begin, end) of a source.
struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
    friend bool operator==(const Span&, const Span&) = default;
};

// Line and column as an editor counts them: from 1, a column is a character (code point), not a byte.
struct Place {
    std::size_t line = 1;
    std::size_t column = 1;
};

struct SourceText {
    SourceText(std::string name, std::string text);

    const std::string name;  // as the user gave it: a file name, "-" or "the command line"
    const std::string text;  // UTF-8

    [[nodiscard]] Place place_of(std::size_t byte) const;
    // The byte at a place; the end of the text if that is behind it.
    [[nodiscard]] std::size_t byte_of(Place place) const;
    // The whole line that holds a byte, without its line end.
    [[nodiscard]] std::string_view line_at(std::size_t byte) const;
    // Where that line begins.
    [[nodiscard]] std::size_t line_begin(std::size_t byte) const;

  private:
    [[nodiscard]] std::size_t characters_before(std::size_t byte) const;
    // So many characters on, at most to the end.
    [[nodiscard]] std::size_t forward(std::size_t byte, std::size_t characters) const;

    // Found once, so that a place costs the same wherever it is, in one long line as in many short ones.
    std::vector<std::size_t> lines_;  // where each begins
    std::vector<std::size_t> marks_;  // where every so manieth character begins
};

}  // namespace shedbook
