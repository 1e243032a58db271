// Words of a request turned into values. What is not known is a UsageError that names the nearest known word.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/requests.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// A name that nothing has: a UsageError with the nearest one, or else with what there is.
[[noreturn]] void unknown_name(const std::string& what, const std::string& name,
                               const std::vector<std::string>& known, const std::string& what_there_is);
[[noreturn]] void unknown_word(const std::string& option, const std::string& word,
                               const std::vector<std::string>& words);
// What an option says, one of the words of an enum.
template <class Enum>
Enum choice_of(const std::string& option, const std::string& word) {
    if (const std::optional<Enum> known = from_word<Enum>(lower_case(word))) return *known;
    unknown_word(option, word, words_of<Enum>());
}

[[nodiscard]] const EtudeKind& etude_kind_called(const std::string& name);
[[nodiscard]] const Instrument& instrument_called(const std::string& name);
[[nodiscard]] const DrillTemplate& drill_called(const std::string& name);
// The writer for a file name; UsageError, with the endings there are, if there is none.
[[nodiscard]] const Writer& writer_for(const std::string& file_name);
// What is said of a file name with none of these endings.
[[nodiscard]] std::string fault_of_ending(const std::string& file, const std::vector<std::string>& endings);
// An empty word: the usual palette, A4.
[[nodiscard]] Palette palette_of(const std::string& word);
[[nodiscard]] Prefer prefer_of(const std::string& word);
[[nodiscard]] Paper paper_of(const std::string& word);
// How symbols are printed: words joined by commas, of signs, letters, triangle, M, dash.
[[nodiscard]] SymbolStyle symbol_style_of(const std::string& words);
// "5-8", "12".
[[nodiscard]] std::pair<int, int> bars_of(const std::string& text);
// The interval that brings a tune in `home` to what was asked: a key ("Eb") or an interval ("up m3", "down
// M2").
[[nodiscard]] Interval transposition_of(const std::string& text, PitchClass home);

}  // namespace shedbook
