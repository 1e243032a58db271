// Arguments that several commands take, turned from text into values. What is not known is a UsageError that
// names the nearest known word.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "command.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/write/writers.h"
#include "sound_arguments.h"

namespace shedbook {

struct PartArguments {
    std::vector<std::string> instruments;
    std::string range;  // empty: practical
    std::string output;
    std::string prefer;
    std::string fingerings;  // empty: none
    std::string paper;       // empty: A4
    int page = 0;            // 0: the first
    std::vector<std::string> drills;
    std::vector<std::string> only;  // numbers of pieces: "2.3"
    SoundArguments sound;
};
// Declares --for, --range, --fingerings, -o, --prefer, --drills and --only, and the sound options.
void add_part_options(CLI::App& app, PartArguments& arguments);

// A name that nothing has, or a word that an option does not take: a UsageError with the nearest one, or else
// with what there is.
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
// One part for each --for. Words behind --for that are tunes go to `tunes` (the shell cannot tell where the
// list ends).
[[nodiscard]] std::vector<BookPart> parts_of(const PartArguments& arguments, std::vector<std::string>* tunes);
[[nodiscard]] WriteOptions write_options_of(const PartArguments& arguments);
// How symbols are printed: words joined by commas, of signs, letters, triangle, M, dash.
[[nodiscard]] SymbolStyle symbol_style_of(const std::string& words);
[[nodiscard]] Prefer prefer_of(const std::string& word);
[[nodiscard]] std::vector<const DrillTemplate*> drills_of(const std::vector<std::string>& names);
// "5-8", "12".
[[nodiscard]] std::pair<int, int> bars_of(const std::string& text);
// The interval that brings a tune in `home` to what was asked: a key ("Eb") or an interval ("up m3", "down
// M2").
[[nodiscard]] Interval transposition_of(const std::string& text, PitchClass home);
// "book.mxl" with "alto-sax": "book-alto-sax.mxl".
[[nodiscard]] std::string name_with(const std::string& output, const std::string& word);

}  // namespace shedbook
