#include "phrase_figure.h"

#include <algorithm>
#include <cstdlib>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr int kHighestWordDegree = 13;
constexpr Duration kLongestFigure{Rational{8}};
constexpr const char* kHowToWrite =
    "a figure has lengths (1/4, for all that follows), degrees (3 b9 7,), rests (r) and ~ where the note "
    "goes on";

// A word of a figure with its place in the text.
struct Word {
    std::string_view text;
    std::size_t begin;
    std::size_t end;
};

std::vector<Word> words_in(std::string_view text) {
    std::vector<Word> out;
    std::size_t at = 0;
    for (const std::string_view word : split(text, ' ')) {
        if (!word.empty()) out.push_back({word, at, at + word.size()});
        at += word.size() + 1;
    }
    return out;
}

std::optional<int> number_of(std::string_view digits) {
    if (digits.empty() || digits.size() > 2 || !std::ranges::all_of(digits, is_digit)) return std::nullopt;
    int out = 0;
    for (const char c : digits) out = 10 * out + (c - '0');
    return out;
}

// "1/4", "3/8", "1/12".
std::optional<Duration> length_of(std::string_view word) {
    const std::size_t slash = word.find('/');
    if (slash == std::string_view::npos) return std::nullopt;
    const auto num = number_of(word.substr(0, slash));
    const auto den = number_of(word.substr(slash + 1));
    if (!num || !den || *num == 0 || *den == 0 || (32 * 3) % *den != 0) return std::nullopt;
    return Duration{Rational{*num, *den}};
}

// "3", "b9", "#4", "7,": accidentals are counted from the major scale; without one the chord decides.
std::optional<PhraseNote> degree_of(std::string_view word) {
    PhraseNote out;
    while (word.ends_with('\'') || word.ends_with(',')) {
        out.octaves += word.back() == '\'' ? 1 : -1;
        word.remove_suffix(1);
    }
    while (word.starts_with('b') || word.starts_with('#')) {
        out.alter = out.alter.value_or(0) + (word.front() == '#' ? 1 : -1);
        word.remove_prefix(1);
    }
    const auto number = number_of(word);
    if (!number || *number == 0 || *number > kHighestWordDegree) return std::nullopt;
    if (std::abs(out.octaves) > 2 || std::abs(out.alter.value_or(0)) > 2) return std::nullopt;
    out.steps = *number - 1;
    return out;
}

class FigureReader {
  public:
    bool read(std::string_view text, PhraseFigure& out, PatternFault& fault) {
        for (const Word& word : words_in(text)) {
            if (!take(word, out, fault)) return false;
        }
        if (out.notes.empty() || out.length > kLongestFigure) {
            fault = {0, text.size(), "a figure has a note, and is eight whole notes long at most",
                     kHowToWrite};
            return false;
        }
        if (is_tuplet(out.length)) {
            fault = {0, text.size(), "triplets stand in threes, so that they fill their beat",
                     "as in \"1/12 3 5 7 1/4 3\""};
            return false;
        }
        return true;
    }

  private:
    bool take(const Word& word, PhraseFigure& out, PatternFault& fault) {
        if (const auto length = length_of(word.text)) {
            length_ = *length;
            return true;
        }
        if (word.text == "up" || word.text == "down") {
            if (out.notes.empty()) {
                out.entry = word.text == "up" ? PhraseFigure::Entry::Above : PhraseFigure::Entry::Below;
                return true;
            }
            fault = {word.begin, word.end, "'up' and 'down' stand before the first note of a figure",
                     "inside it write ' an octave higher and , an octave lower"};
            return false;
        }
        std::optional<PhraseNote> note;
        if (word.text == "r" || word.text == "~") {
            note.emplace().kind = word.text == "r" ? PhraseNote::Kind::Rest : PhraseNote::Kind::Hold;
        } else {
            note = degree_of(word.text);
        }
        if (!note || length_ == Duration{}) {
            fault = {word.begin, word.end,
                     note ? "a figure begins with a length, as in \"1/4 3 5\""
                          : "'" + std::string{word.text} + "' is no note of a figure",
                     kHowToWrite};
            return false;
        }
        note->length = length_;
        out.length += length_;
        out.notes.push_back(*note);
        return true;
    }

    Duration length_;
};

}  // namespace

bool read_figure(std::string_view text, PhraseFigure& out, PatternFault& fault) {
    return FigureReader{}.read(text, out, fault);
}

}  // namespace shedbook
