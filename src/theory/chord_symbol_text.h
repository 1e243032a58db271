// The text of a chord symbol in plain characters: every sign that looks like another becomes one sign, so
// that the grammar knows one flat, one triangle, one minus. Each plain character remembers where it stood.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace shedbook {

// Signs that have no ASCII character of their own. A caret stands for the triangle.
inline constexpr char kHalfDiminishedSign = '\x01';
inline constexpr char kDegreeSign = '\x02';
inline constexpr char kNaturalSign = '\x03';
inline constexpr std::string_view kHalfDiminishedText{&kHalfDiminishedSign, 1};
inline constexpr std::string_view kDegreeText{&kDegreeSign, 1};
inline constexpr std::string_view kNaturalText{&kNaturalSign, 1};
inline constexpr char kForeignSign = '\x04';  // anything that no chord symbol has

struct PlainText {
    // The longest real symbols have some thirty characters; what is longer is a line of text, not a symbol.
    static constexpr std::size_t kLongest = 72;

    // Zero-terminated.
    std::array<char, kLongest + 1> characters;
    // Byte in the text where each character (and the end) stood.
    std::array<std::uint32_t, kLongest + 1> origin;
    std::size_t size = 0;
    bool too_long = false;

    [[nodiscard]] char at(std::size_t place) const { return characters[place]; }
};

[[nodiscard]] PlainText plain_text(std::string_view text);

}  // namespace shedbook
