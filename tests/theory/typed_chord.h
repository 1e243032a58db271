// Chords as the tests type them.
#pragma once

#include <catch2/catch.hpp>
#include <optional>
#include <string_view>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// The text must be right.
inline ChordSymbol chord(std::string_view text) {
    const std::optional<ChordSymbol> out = parse_chord_symbol(text);
    INFO(text);
    REQUIRE(out);
    return *out;
}

}  // namespace shedbook
