// Text for the engraver: every string of a user's goes through here, into quotes, and accidentals become
// music glyphs.
#pragma once

#include <string>
#include <string_view>

#include "shedbook/notation/document.h"

namespace shedbook {

// A quoted string; control characters dropped, quotes and backslashes escaped: nothing in it can be a
// command.
[[nodiscard]] std::string quoted(std::string_view text);
// A markup of running text in which flats and sharps (as signs) are glyphs: \concat { "B" \nf " altered" }.
[[nodiscard]] std::string text_markup(std::string_view text);
// A chord symbol with raised figures: \concat { "B" \fl \ql "maj" \fig "7" }.
[[nodiscard]] std::string symbol_markup(const ChordSymbol& symbol);
// What a section is called: its chord, or the scale by itself.
[[nodiscard]] std::string symbol_or_scale(const TopicInPart& topic);
// Markup that leads to a page of the book.
[[nodiscard]] std::string to_page(int page, const std::string& markup);
// As much of a title as a heading or a footer holds in one row, with real flats and sharps.
[[nodiscard]] std::string short_title(const std::string& title, std::size_t most = 40);
// A title in bold; one of more characters than `most_large` is set smaller.
[[nodiscard]] std::string title_markup(const std::string& title, std::size_t most_large);

}  // namespace shedbook
