#include "chord_symbol_parser.h"

#include "chord_symbol_grammar.h"
#include "chord_symbol_note.h"

namespace shedbook {

std::optional<ChordSymbol> SymbolParser::run() {
    if (!root() || !body() || !complete()) return std::nullopt;
    const DegreeSet degrees = draft_.degrees();
    if (degrees == 0) {
        refused(Slip::NothingLeft, begin_, text_.size);
        return std::nullopt;
    }
    if (has_two_sevenths(degrees)) {
        refused(Slip::Contradiction, begin_, text_.size, "the minor seventh", "the major one");
        return std::nullopt;
    }
    return described(tidied(degrees), root_, bass_);
}

std::string_view SymbolParser::said() const {
    switch (draft_.quality) {
        case Quality::Minor:
            return "minor";
        case Quality::Diminished:
            return "diminished";
        case Quality::HalfDiminished:
            return "half-diminished";
        case Quality::Power:
            return "the 5 of a power chord";
        case Quality::Plain:
            break;
    }
    if (draft_.altered) return "alt";
    if (draft_.dominant) return "dominant";
    if (draft_.suspended()) return "sus";
    if (draft_.augmented) return "augmented";
    if (draft_.major) return "major";
    return "what stands before it";
}

std::optional<std::size_t> SymbolParser::second_chord(const SymbolToken& token) const {
    constexpr std::string_view kBetween = " -,;|.";
    std::size_t begin = token.begin;
    while (begin < text_.size && kBetween.find(text_.at(begin)) != std::string_view::npos) ++begin;
    if (text_.at(begin) < 'A' || text_.at(begin) > 'G') return std::nullopt;
    Failure failure;
    const bool chord = SymbolParser{text_, begin, failure}.run() || failure.slip == Slip::SecondChord;
    return chord ? std::optional{begin} : std::nullopt;
}

bool SymbolParser::unknown(const SymbolToken& token) {
    if (const auto second = second_chord(token)) return refused(Slip::SecondChord, *second, text_.size);
    // As much as looks like one word.
    const auto is_letter = [&](std::size_t i) {
        return (text_.at(i) >= 'a' && text_.at(i) <= 'z') || (text_.at(i) >= 'A' && text_.at(i) <= 'Z');
    };
    std::size_t end = token.end;
    while (end < text_.size && is_letter(end - 1) && is_letter(end)) ++end;
    return refused(Slip::Unknown, token.begin, end);
}

bool SymbolParser::root() {
    if (text_.at(begin_) == ' ') ++begin_;
    if (begin_ >= text_.size) return refused(Slip::Empty, 0, text_.size);
    if (text_.too_long) return refused(Slip::TooLong, begin_, text_.size);
    const NoteRead note = note_at(text_, begin_, true);
    if (!note.name) return refused(note.slip, note.begin, note.end);
    root_ = *note.name;
    token_ = token_at(text_, note.end);
    return true;
}

bool SymbolParser::body() {
    while (token_.word != Word::End) {
        if (!item()) return false;
    }
    return true;
}

bool SymbolParser::item() {
    const Word word = token_.word;
    const bool list = word == Word::Number || word == Word::Comma || word == Word::Slash;
    if (!list) list_ = Word::End;
    switch (word) {
        case Word::Major:
        case Word::Triangle:
            return major();
        case Word::Minor:
            return quality(Quality::Minor, "minor");
        case Word::Dash:
            return dash();
        case Word::Plus:
            return plus();
        case Word::Augmented:
            return augmented();
        case Word::Diminished:
            return diminished();
        case Word::HalfDiminished:
            return quality(Quality::HalfDiminished, "half-diminished");
        case Word::Dominant:
            return dominant();
        case Word::Suspended:
            return suspended();
        case Word::Altered:
            return altered();
        case Word::Power:
            return power();
        case Word::Add:
            return add();
        case Word::Omit:
            return omit();
        case Word::Sharp:
        case Word::Flat:
        case Word::Natural:
            return accidental();
        case Word::Number:
            return number();
        case Word::Slash:
            return slash();
        case Word::Comma:
            return comma();
        case Word::Open:
            return open();
        case Word::Close:
            return close();
        default:
            return unknown(token_);
    }
}

bool SymbolParser::complete() {
    if (bracket_ != '\0') return refused(Slip::BracketOpen, opened_, text_.size);
    if (major_waits_) return refused(Slip::MajorWithoutNumber, major_word_);
    return true;
}

bool SymbolParser::open() {
    const SymbolToken token = take();
    if (bracket_ != '\0') return refused(Slip::BracketInBracket, token);
    if (token_.word == Word::Close && token_.opens == token.opens) {
        return refused(Slip::BracketEmpty, token.begin, token_.end);
    }
    bracket_ = token.opens;
    opened_ = token.begin;
    last_ = Last::Open;
    return true;
}

bool SymbolParser::close() {
    const SymbolToken token = take();
    if (bracket_ != token.opens) return refused(Slip::BracketClosed, token);
    if (last_ == Last::Open || last_ == Last::Separator) return refused(Slip::CommaOutOfPlace, token);
    bracket_ = '\0';
    last_ = Last::Close;
    return true;
}

bool SymbolParser::comma() {
    const SymbolToken token = take();
    const bool first = draft_.is_bare() || last_ == Last::Open || last_ == Last::Separator;
    if (first || token_.word == Word::End || token_.word == Word::Close)
        return refused(Slip::CommaOutOfPlace, token);
    last_ = Last::Separator;
    return true;
}

// In brackets a slash only separates. Elsewhere a note behind it is the bass, a number or a sign with a
// number one more tone, and "m/maj7" is what it looks like.
bool SymbolParser::slash() {
    if (bracket_ != '\0') return comma();
    const SymbolToken next = after();
    const char c = text_.at(next.begin);
    if (c >= 'A' && c <= 'G' && next.word != Word::Add) return bass();
    const SymbolToken token = take();
    const bool major = token_.word == Word::Major || token_.word == Word::Triangle;
    const bool separates = token_.word == Word::Number || token_.word == Word::Add ||
                           (is_sign(token_.word) && number_follows()) ||
                           (major && draft_.quality == Quality::Minor);
    if (!separates || last_ == Last::Separator) {
        const std::size_t begin = token_.word == Word::End ? token.begin : token_.begin;
        return refused(Slip::BassExpected, begin, text_.size);
    }
    last_ = Last::Separator;
    return true;
}

bool SymbolParser::bass() {
    take();
    const NoteRead note = note_at(text_, token_.begin, false);
    if (!note.name) return refused(note.slip, note.begin, note.end);
    bass_ = note.name;
    token_ = token_at(text_, note.end);
    if (token_.word == Word::Slash) return refused(Slip::SecondBass, token_.begin, text_.size);
    if (token_.word != Word::End) return refused(Slip::ChordUnderSlash, note.begin, text_.size);
    return true;
}

std::optional<ChordSymbol> parse_chord(const PlainText& text, Failure& failure) {
    return SymbolParser{text, 0, failure}.run();
}

}  // namespace shedbook
