// Text to chord: the grammar of docs/chord-symbols.md. It says what went wrong as a plain value; words for a
// person are made from that only when somebody wants them.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

#include "chord_symbol_text.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

enum class Slip {
    Empty,
    TooLong,
    NoRoot,            // no note name where a chord begins
    MixedAccidentals,  // a note is sharp and flat at once
    ManyAccidentals,   // more than two
    Unknown,           // letters or signs that mean nothing
    SecondChord,       // another chord begins
    SaidTwice,
    Contradiction,   // `first` and `second` do not go together
    NumberExpected,  // after `first`
    NoSuchDegree,    // `number` is no chord tone (as `first` says)
    NumberOutOfPlace,
    Ambiguous,  // it is read as `first` by some and as `second` by others
    MajorWithoutNumber,
    SuspensionDegree,
    NothingToLeaveOut,
    NothingLeft,
    BracketOpen,
    BracketClosed,
    BracketEmpty,
    BracketInBracket,
    CommaOutOfPlace,
    BassExpected,
    SecondBass,
    ChordUnderSlash,
};

struct Failure {
    Slip slip = Slip::Empty;
    std::size_t begin = 0;  // bytes in the text
    std::size_t end = 0;
    std::string_view first = {};
    std::string_view second = {};
    int number = 0;
};

// The chord, or nothing and a filled failure.
[[nodiscard]] std::optional<ChordSymbol> parse_chord(const PlainText& text, Failure& failure);

}  // namespace shedbook
