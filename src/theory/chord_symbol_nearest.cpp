#include "chord_symbol_nearest.h"

#include <algorithm>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

std::vector<std::string> if_readable(const std::string& text) {
    return is_readable(text) ? std::vector{text} : std::vector<std::string>{};
}

std::string without(std::string_view text, std::size_t begin, std::size_t end) {
    return std::string{trimmed(text.substr(0, begin))} + std::string{text.substr(end)};
}

// Readable texts that differ as chords, in the order in which they were found.
class Candidates {
  public:
    void add(const std::string& text) {
        // A letter mended into an x would be a double sharp.
        if (text.find('x') != std::string::npos) return;
        const auto chord = parse_chord_symbol(text);
        if (!chord || std::ranges::find(chords_, *chord) != chords_.end()) return;
        chords_.push_back(*chord);
        texts_.push_back(text);
    }
    [[nodiscard]] const std::vector<std::string>& texts() const { return texts_; }

  private:
    std::vector<ChordSymbol> chords_;
    std::vector<std::string> texts_;
};

// A sign, or letters of which no word of a chord symbol is made: they came in by themselves.
bool is_of_no_word(std::string_view piece) {
    constexpr std::string_view kForeign = "cefkpqrvwxyz";
    if (piece.size() == 1 && !is_letter(piece.front())) return true;
    return !piece.empty() && piece.find_first_not_of(kForeign) == std::string_view::npos;
}

// What is one slip of the finger away from what was typed near [begin, end): two letters changed round, one
// too many, missing or wrong. More than two chords are no help.
std::vector<std::string> with_word_mended(std::string_view text, std::size_t begin, std::size_t end) {
    constexpr std::string_view kLetters = "majinsudlt";
    constexpr std::size_t kMost = 2;
    const std::string shorter = without(text, begin, end);
    if (is_of_no_word(text.substr(begin, end - begin)) && is_readable(shorter)) return {shorter};
    const std::size_t first = begin > 2 ? begin - 1 : 1;
    const std::size_t last = std::min(text.size(), end + 1);
    Candidates found;
    for (std::size_t i = first; i + 1 < last; ++i) {
        std::string changed{text};
        std::swap(changed[i], changed[i + 1]);
        found.add(changed);
    }
    if (found.texts().size() == 1) return found.texts();
    for (std::size_t i = first; i < last; ++i) found.add(without(text, i, i + 1));
    for (std::size_t i = first; i < last; ++i) {
        for (const char letter : kLetters) {
            std::string changed{text};
            changed.insert(i, 1, letter);
            found.add(changed);
            changed = text;
            changed[i] = letter;
            found.add(changed);
        }
    }
    return found.texts().size() <= kMost ? found.texts() : std::vector<std::string>{};
}

// "C/E(b9)": the bass stands behind everything else.
std::vector<std::string> with_bass_last(std::string_view text, std::size_t bass) {
    const std::size_t bracket = text.find('(', bass);
    const std::size_t slash = text.rfind('/', bass);
    if (bracket == std::string_view::npos || slash == std::string_view::npos) return {};
    const std::string_view note = text.substr(bass, bracket - bass);
    return if_readable(std::string{text.substr(0, slash)} + std::string{text.substr(bracket)} + "/" +
                       std::string{note});
}

// "Cm7b": the one flat that is written behind a minor seventh chord is that of its fifth.
std::vector<std::string> with_flat_finished(std::string_view text, std::size_t end) {
    const bool is_open = end == text.size() && (text.ends_with("m7b") || text.ends_with("-7b"));
    return is_open ? if_readable(std::string{text} + "5") : std::vector<std::string>{};
}

}  // namespace

bool is_readable(const std::string& text) {
    return parse_chord_symbol(text).has_value();
}

std::vector<std::string> nearest_symbols(Slip slip, std::string_view text, std::size_t begin,
                                         std::size_t end) {
    constexpr std::size_t kLongest = 24;  // of what is worth mending
    if (text.size() > kLongest) return {};
    switch (slip) {
        case Slip::ChordUnderSlash:
            return with_bass_last(text, begin);
        case Slip::Unknown:
            return with_word_mended(text, begin, end);
        case Slip::NumberOutOfPlace: {
            std::string bracketed = std::string{trimmed(text.substr(0, begin))} + "(" +
                                    std::string{text.substr(begin, end - begin)} + ")" +
                                    std::string{text.substr(end)};
            if (is_readable(bracketed)) return {bracketed};
            return if_readable(without(text, begin, end));
        }
        case Slip::SaidTwice:
        case Slip::CommaOutOfPlace:
        case Slip::BracketEmpty:
        case Slip::BracketInBracket:
            return if_readable(without(text, begin, end));
        case Slip::MajorWithoutNumber:
            return if_readable(std::string{text.substr(0, end)} + "7" + std::string{text.substr(end)});
        case Slip::SuspensionDegree:
            return if_readable(std::string{text.substr(0, begin)} + "4" + std::string{text.substr(end)});
        case Slip::NumberExpected:
            return with_flat_finished(text, end);
        case Slip::BracketOpen:
            return if_readable(std::string{text} + (text[begin] == '[' ? ']' : ')'));
        case Slip::BracketClosed: {
            std::string other{text};
            other[begin] = text[begin] == ']' ? ')' : ']';
            return if_readable(is_readable(other) ? other : without(text, begin, end));
        }
        default:
            return {};
    }
}

}  // namespace shedbook
