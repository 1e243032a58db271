// The words and signs that a chord symbol is made of.
#pragma once

#include <cstddef>
#include <string_view>

#include "chord_symbol_text.h"

namespace shedbook {

enum class Word {
    End,
    Major,     // maj, major, ma, M, j
    Triangle,  // a triangle brings the major seventh without a number
    Minor,     // m, mi, min, minor
    Dash,      // minor, or a flat before a number
    Plus,      // augmented, or a sharp before a number
    Augmented,
    Diminished,
    HalfDiminished,
    Dominant,
    Suspended,
    Altered,
    Power,
    Add,
    Omit,
    Sharp,
    Flat,
    Natural,
    Number,
    Slash,
    Comma,
    Open,
    Close,
    Other,  // letters and signs without a meaning here
};

struct SymbolToken {
    Word word = Word::End;
    int number = 0;     // of Number
    char opens = '\0';  // of Open and Close: '(' or '['
    bool blank_before = false;
    std::size_t begin = 0;  // places in the PlainText
    std::size_t end = 0;
};

// What may raise or lower a number.
[[nodiscard]] constexpr bool is_sign(Word word) {
    return word == Word::Sharp || word == Word::Flat || word == Word::Plus || word == Word::Dash;
}

// The token at a place, the longest spelling that fits. Words may be typed small, Capitalised or LARGE; a
// single m or M is what it is.
[[nodiscard]] SymbolToken token_at(const PlainText& text, std::size_t place);

}  // namespace shedbook
