// A document as a screen lists it: its form, its sections and their pieces, as data.
//
//     screen_data(whole_pieces(document), 120, {});            // {"form": ..., "sections": [...], "goal":
//     120}
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shedbook/io/data.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

// Pieces that are to be played from memory with all of their notes, which a screen hides itself.
[[nodiscard]] Document whole_pieces(Document document);

// What else is told of a piece: members that follow the others.
using MoreOfPiece = std::function<Data::Object(const std::string& number, const Block& piece)>;
// `goal`: the tempo of pieces without boxes. `more` may be empty.
[[nodiscard]] Data::Object screen_data(const Document& document, int goal, const MoreOfPiece& more);

// What its metronome counts: "quarter", "dotted quarter", "half".
[[nodiscard]] std::string beat_in_words(const Meter& meter);
// The chord symbols over a piece, in order, each that is printed.
[[nodiscard]] std::vector<std::string> symbols_over(const WrittenMusic& music);
// A line for each bar with its notes, to be read aloud: "Bar 1: G, B flat, rest".
[[nodiscard]] std::vector<std::string> bars_in_words(const WrittenMusic& music);

}  // namespace shedbook
