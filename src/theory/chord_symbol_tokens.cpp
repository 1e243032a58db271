#include "chord_symbol_tokens.h"

#include <algorithm>
#include <array>
#include <optional>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct Spelling {
    std::string_view text;
    Word word;
    int number = 0;
};

// Of spellings that begin alike the longest stands first.
constexpr std::array kSpellings = std::to_array<Spelling>({
    {"augmented", Word::Augmented},
    {"altered", Word::Altered},
    {"added", Word::Add},
    {"aug", Word::Augmented},
    {"alt", Word::Altered},
    {"add", Word::Add},
    {"b", Word::Flat},
    {"diminished", Word::Diminished},
    {"dominant", Word::Dominant},
    {"dim", Word::Diminished},
    {"dom", Word::Dominant},
    {"eleventh", Word::Number, 11},
    {"eleven", Word::Number, 11},
    {"flat", Word::Flat},
    {"fourth", Word::Number, 4},
    {"fifth", Word::Number, 5},
    {"five", Word::Number, 5},
    {"half-diminished", Word::HalfDiminished},
    {"half diminished", Word::HalfDiminished},
    {"halfdiminished", Word::HalfDiminished},
    {"half-dim", Word::HalfDiminished},
    {"half dim", Word::HalfDiminished},
    {"halfdim", Word::HalfDiminished},
    {"h", Word::HalfDiminished},
    {"j", Word::Major},
    {"major", Word::Major},
    {"minor", Word::Minor},
    {"maj", Word::Major},
    {"min", Word::Minor},
    {"ma", Word::Major},
    {"mi", Word::Minor},
    {"m", Word::Minor},
    {"natural", Word::Natural},
    {"ninth", Word::Number, 9},
    {"nine", Word::Number, 9},
    {"no", Word::Omit},
    {"omit", Word::Omit},
    {"over", Word::Slash},
    {"on", Word::Slash},
    {"o", Word::Diminished},
    {"power", Word::Power},
    {"suspended", Word::Suspended},
    {"seventh", Word::Number, 7},
    {"seven", Word::Number, 7},
    {"second", Word::Number, 2},
    {"sharp", Word::Sharp},
    {"sixth", Word::Number, 6},
    {"six", Word::Number, 6},
    {"sus", Word::Suspended},
    {"thirteenth", Word::Number, 13},
    {"thirteen", Word::Number, 13},
    {"third", Word::Number, 3},
    {"M", Word::Major},
    {"^", Word::Triangle},
    {"-", Word::Dash},
    {"+", Word::Plus},
    {"#", Word::Sharp},
    {"/", Word::Slash},
    {",", Word::Comma},
    {"(", Word::Open},
    {"[", Word::Open},
    {")", Word::Close},
    {"]", Word::Close},
    {kHalfDiminishedText, Word::HalfDiminished},
    {kDegreeText, Word::Diminished},
    {kNaturalText, Word::Natural},
});

constexpr char small(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}
constexpr char large(char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

// Plain characters are ASCII.
constexpr std::size_t index_of(char c) {
    return static_cast<unsigned char>(c);
}

// Where the spellings that begin with a letter stand in the table.
struct Shelf {
    std::size_t first = 0;
    std::size_t last = 0;
};
constexpr std::array<Shelf, 128> kShelves = [] {
    std::array<Shelf, 128> out{};
    for (std::size_t i = 0; i < kSpellings.size(); ++i) {
        Shelf& shelf = out[index_of(kSpellings[i].text.front())];
        if (shelf.last == 0) shelf.first = i;
        shelf.last = i + 1;
    }
    return out;
}();

bool stands_at(std::string_view spelling, const PlainText& text, std::size_t place) {
    if (spelling.size() == 1) return text.at(place) == spelling.front();
    if (place + spelling.size() > text.size) return false;
    const bool first_large = text.at(place) != small(text.at(place));
    const bool rest_large = first_large && text.at(place + 1) != small(text.at(place + 1));
    for (std::size_t i = 0; i < spelling.size(); ++i) {
        const bool is_large = i == 0 ? first_large : rest_large;
        if (text.at(place + i) != (is_large ? large(spelling[i]) : spelling[i])) return false;
    }
    return true;
}

// "madd9" is a minor chord with an added ninth, not "ma".
bool is_ma_of_madd(std::string_view spelling, const PlainText& text, std::size_t place) {
    return spelling == "ma" && place + 4 <= text.size && small(text.at(place + 2)) == 'd' &&
           small(text.at(place + 3)) == 'd';
}

// "C on E", "ConE"; in "Cono5" the o is a word of its own, and BOND is no chord.
bool is_no_bass(std::string_view spelling, const PlainText& text, std::size_t place) {
    if (spelling != "on") return false;
    if (text.at(place) != 'o') return true;
    const std::size_t note = place + 2 + (text.at(place + 2) == ' ' ? 1 : 0);
    return text.at(note) < 'A' || text.at(note) > 'G';
}

const Spelling* search(const Shelf& shelf, const PlainText& text, std::size_t place) {
    for (std::size_t i = shelf.first; i < shelf.last; ++i) {
        const std::string_view spelling = kSpellings[i].text;
        if (!stands_at(spelling, text, place)) continue;
        if (is_ma_of_madd(spelling, text, place) || is_no_bass(spelling, text, place)) continue;
        return &kSpellings[i];
    }
    return nullptr;
}

const Spelling* spelling_at(const PlainText& text, std::size_t place) {
    const char first = text.at(place);
    const Spelling* found = search(kShelves[index_of(small(first))], text, place);
    // A large M is a word of its own.
    if (found == nullptr && small(first) != first) found = search(kShelves[index_of(first)], text, place);
    return found;
}

// Ten to nineteen are one number, of other digits each is one: "69" is a 6 and a 9.
SymbolToken number_at(const PlainText& text, std::size_t place) {
    SymbolToken out{Word::Number};
    out.number = text.at(place) - '0';
    std::size_t end = place + 1;
    if (out.number == 1 && is_digit(text.at(end))) out.number = 10 + (text.at(end++) - '0');
    // 7th, 3rd, 2nd
    for (const std::string_view ending : {"th", "rd", "nd"}) {
        if (stands_at(ending, text, end)) {
            end += ending.size();
            break;
        }
    }
    out.begin = place;
    out.end = end;
    return out;
}

}  // namespace

SymbolToken token_at(const PlainText& text, std::size_t place) {
    SymbolToken out;
    if (text.at(place) == ' ') {
        out.blank_before = true;
        ++place;
    }
    const bool blank = out.blank_before;
    if (is_digit(text.at(place))) {
        out = number_at(text, place);
    } else if (place >= text.size) {
        out.begin = out.end = text.size;
    } else if (const Spelling* found = spelling_at(text, place)) {
        out.word = found->word;
        out.number = found->number;
        out.begin = place;
        out.end = place + found->text.size();
        // A dot after an abbreviation: "dim.", "alt."
        if (found->text.size() == 3 && text.at(out.end) == '.') ++out.end;
        if (out.word == Word::Open || out.word == Word::Close) {
            out.opens = text.at(place) == '(' || text.at(place) == ')' ? '(' : '[';
        }
    } else {
        out.word = Word::Other;
        out.begin = place;
        out.end = place + 1;
    }
    out.blank_before = blank;
    return out;
}

}  // namespace shedbook
