#include "chord_symbol_note.h"

#include <cstdlib>

#include "chord_symbol_tokens.h"

namespace shedbook {
namespace {

constexpr int kMostAccidentals = 2;

bool is_alterable(int number) {
    return number == 5 || number == 9 || number == 11 || number == 13;
}

// "B flat", "B-flat", "Bflat".
int word_accidental(const PlainText& text, std::size_t& place) {
    std::size_t at = place;
    if (text.at(at) == '-') ++at;
    const SymbolToken token = token_at(text, at);
    if (token.end < token.begin + 4) return 0;  // the signs have one letter
    if (token.word != Word::Sharp && token.word != Word::Flat) return 0;
    place = token.end;
    return token.word == Word::Sharp ? 1 : -1;
}

int sign_of(char c) {
    return c == '#' || c == 'x' ? 1 : c == 'b' ? -1 : 0;
}

// All sharps or all flats at a place; "x" is two sharps and stands alone.
int accidentals(const PlainText& text, std::size_t& at) {
    if (text.at(at) == 'x') {
        ++at;
        return 2;
    }
    const char sign = text.at(at);
    int alter = 0;
    for (; sign_of(sign) != 0 && text.at(at) == sign; ++at) alter += sign_of(sign);
    return alter != 0 ? alter : word_accidental(text, at);
}

bool begins_alteration(const PlainText& text, std::size_t at) {
    const SymbolToken next = token_at(text, at + 1);
    return text.at(at) != 'x' && next.word == Word::Number && is_alterable(next.number);
}

}  // namespace

NoteRead note_at(const PlainText& text, std::size_t place, bool is_root) {
    constexpr std::string_view kLetters = "CDEFGAB";
    NoteRead out;
    out.begin = place;
    out.end = place < text.size ? place + 1 : place;
    if (text.at(place) == ' ') ++place;
    const std::size_t letter = place < text.size ? kLetters.find(text.at(place)) : std::string_view::npos;
    if (letter == std::string_view::npos) return out;
    std::size_t at = place + 1;
    if (text.at(at) == kNaturalSign) ++at;
    const int alter = accidentals(text, at);
    out.begin = place;
    out.end = at;
    // What else stands there: a sign too many, the opposite sign, or the beginning of an alteration.
    const int more = alter == 0 ? 0 : sign_of(text.at(at));
    if (std::abs(alter) > kMostAccidentals || more * alter > 0) {
        out.slip = Slip::ManyAccidentals;
    } else if (more != 0 && !(is_root && begins_alteration(text, at))) {
        out.slip = Slip::MixedAccidentals;
        out.end = at + 1;
    } else {
        out.name = PitchClass::of(static_cast<Step>(letter), alter);
    }
    return out;
}

}  // namespace shedbook
