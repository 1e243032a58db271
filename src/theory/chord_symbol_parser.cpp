#include "chord_symbol_parser.h"

#include <algorithm>

#include "chord_symbol_draft.h"
#include "chord_symbol_note.h"
#include "chord_symbol_tokens.h"

namespace shedbook {
namespace {

// What was read last: it decides what a number or a sign after it means.
enum class Last {
    Name,        // root or quality word: a number now belongs to the name
    Number,      // the number of the name, or of a suspension
    Suspension,  // "sus" without a number of its own
    Change,      // an altered tone, or a tension
    Added,       // after add or no
    Separator,   // comma or slash
    Open,
    Close,
};

class Parser {
  public:
    Parser(const PlainText& text, Failure& failure) : text_{text}, failure_{failure} {}

    std::optional<ChordSymbol> run() {
        if (!root() || !body() || !complete()) return std::nullopt;
        const DegreeSet degrees = draft_.degrees();
        if (degrees == 0) return refused(Slip::NothingLeft, begin_, text_.size), std::nullopt;
        return described(tidied(degrees), root_, bass_);
    }

  private:
    bool root();
    bool body();
    bool item();
    bool complete();

    bool quality(Quality quality, std::string_view name);
    bool dominant();
    bool power();
    bool major();
    bool late_major(Token word, bool with_seven);
    bool dash();
    bool plus();
    bool augmented();
    bool raise_fifth(Token word);
    bool diminished();
    bool suspended();
    bool suspension_number();
    bool altered();

    bool number();
    bool first_number(Token token);
    bool further_number(Token token);
    bool number_after_suspension(Token token);
    bool tension(Token token);
    bool sign_behind_number(Token token);

    bool accidental();
    bool change(int number, int alter, Token first);
    bool changed_seventh(int alter, Token first);
    bool add();
    bool add_tone(int number, int alter, Token first);
    bool omit();

    bool open();
    bool close();
    bool comma();
    bool slash();
    bool bass();

    // The current token, and the next one.
    Token take() {
        const Token out = token_;
        token_ = token_at(text_, token_.end);
        return out;
    }
    [[nodiscard]] Token after() const { return token_at(text_, token_.end); }
    // A number that follows a sign without a blank.
    [[nodiscard]] bool number_follows() const {
        const Token next = after();
        return next.word == Word::Number && !next.blank_before;
    }

    bool refused(Slip slip, std::size_t begin, std::size_t end, std::string_view first = {},
                 std::string_view second = {}, int number = 0) {
        failure_ = {slip, text_.origin[begin], text_.origin[end], first, second, number};
        return false;
    }
    bool refused(Slip slip, const Token& token, std::string_view first = {}, std::string_view second = {}) {
        return refused(slip, token.begin, std::max(token.end, token.begin), first, second, token.number);
    }
    bool unknown(const Token& token);
    // The word for what the chord is already, where another quality cannot join it.
    [[nodiscard]] std::string_view said() const;

    const PlainText& text_;
    Failure& failure_;
    Token token_;
    std::size_t begin_ = 0;
    PitchClass root_;
    std::optional<PitchClass> bass_;
    Draft draft_;
    Last last_ = Last::Name;
    char bracket_ = '\0';       // the kind of bracket that is open
    std::size_t opened_ = 0;    // where
    bool adding_ = false;       // a list after "add": plain numbers in it are added too
    bool major_waits_ = false;  // "maj" over a chord that is not major must be followed by its number
    Token major_word_;
};

std::string_view Parser::said() const {
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

bool Parser::unknown(const Token& token) {
    // As much as looks like one word.
    std::size_t end = token.end;
    const auto is_letter = [&](std::size_t i) {
        return (text_.at(i) >= 'a' && text_.at(i) <= 'z') || (text_.at(i) >= 'A' && text_.at(i) <= 'Z');
    };
    const bool begins_note = text_.at(token.begin) >= 'A' && text_.at(token.begin) <= 'G';
    if (begins_note && !(is_letter(token.end) && text_.at(token.end) >= 'a' && text_.at(token.end) != 'b' &&
                         text_.at(token.end) != 'm' && text_.at(token.end) != 'd')) {
        return refused(Slip::SecondChord, token.begin, text_.size);
    }
    while (end < text_.size && is_letter(end - 1) && is_letter(end)) ++end;
    return refused(Slip::Unknown, token.begin, std::max(end, token.end));
}

bool Parser::root() {
    if (text_.at(begin_) == ' ') ++begin_;
    if (begin_ >= text_.size) return refused(Slip::Empty, 0, text_.size);
    if (text_.too_long) return refused(Slip::TooLong, begin_, text_.size);
    const NoteRead note = note_at(text_, begin_, true);
    if (!note.name) return refused(note.slip, note.begin, note.end);
    root_ = *note.name;
    token_ = token_at(text_, note.end);
    return true;
}

bool Parser::body() {
    while (token_.word != Word::End) {
        if (!item()) return false;
    }
    return true;
}

bool Parser::item() {
    const Word word = token_.word;
    const bool list = word == Word::Number || word == Word::Comma || word == Word::Slash;
    if (!list) adding_ = false;
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

bool Parser::complete() {
    if (bracket_ != '\0') return refused(Slip::BracketOpen, opened_, text_.size);
    if (major_waits_) return refused(Slip::MajorWithoutNumber, major_word_);
    return true;
}

// --- Qualities
// ------------------------------------------------------------------------------------------------------

bool Parser::quality(Quality quality, std::string_view name) {
    const Token word = take();
    if (draft_.quality == quality) return refused(Slip::SaidTwice, word, name);
    if (!draft_.is_bare()) return refused(Slip::Contradiction, word, said(), name);
    // "mj7" is a slip of "maj7" for some and "m(maj7)" for others.
    const bool letter = word.end == word.begin + 1 && text_.at(word.begin) == 'm';
    if (letter && text_.at(token_.begin) == 'j' && after().word == Word::Number) {
        return refused(Slip::Ambiguous, word.begin, token_.end, "maj7", "m(maj7)");
    }
    draft_.quality = quality;
    last_ = Last::Name;
    return true;
}

bool Parser::dominant() {
    const Token word = take();
    if (draft_.dominant) return refused(Slip::SaidTwice, word, "dominant");
    if (!draft_.is_bare()) return refused(Slip::Contradiction, word, said(), "dominant");
    draft_.dominant = true;
    last_ = Last::Name;
    return true;
}

bool Parser::power() {
    const Token word = take();
    if (!draft_.is_bare()) return refused(Slip::Contradiction, word, said(), "power");
    draft_.quality = Quality::Power;
    last_ = Last::Number;
    return true;
}

bool Parser::major() {
    const Token word = take();
    const bool with_seven = token_.word == Word::Number && token_.number == 7;
    if (draft_.major) return refused(Slip::SaidTwice, word, "major");
    if (draft_.dominant || draft_.altered || draft_.quality == Quality::HalfDiminished ||
        draft_.quality == Quality::Power) {
        return refused(Slip::Contradiction, word, said(), "major");
    }
    if (draft_.extension != 0) return late_major(word, with_seven);
    // "mb6M7" is met, "b9maj" is not.
    const bool numbered = token_.word == Word::Number || word.word == Word::Triangle;
    if (!numbered && (draft_.tensions | draft_.changes | draft_.added) != 0) {
        return refused(Slip::Contradiction, word, "the tone before it", "major");
    }
    draft_.major = true;
    draft_.triangle = word.word == Word::Triangle;
    major_waits_ = !draft_.triangle && !draft_.is_bare() &&
                   (draft_.minor_third() || draft_.augmented || draft_.suspended());
    major_word_ = word;
    last_ = Last::Name;
    return true;
}

// A major seventh behind a number: "6(maj7)", "dim7(maj7)", and "7M" as the French and Brazilians write it.
bool Parser::late_major(Token word, bool with_seven) {
    const bool seven = with_seven || word.word == Word::Triangle;
    if (draft_.quality == Quality::Diminished && draft_.extension >= 7 && seven) {
        if (with_seven) take();
        draft_.added |= kSeventh;
        last_ = Last::Added;
        return true;
    }
    if (draft_.extension == 6 && seven) {
        if (with_seven) take();
        draft_.major = true;
        draft_.extension = 7;
        draft_.tensions |= kSixth;
        last_ = Last::Number;
        return true;
    }
    const bool letter = text_.at(word.begin) == 'M' && word.end == word.begin + 1;
    if (letter && last_ == Last::Number && !word.blank_before && draft_.quality != Quality::Diminished &&
        draft_.extension >= 7) {
        draft_.major = true;
        last_ = Last::Number;
        return true;
    }
    return refused(Slip::Contradiction, word, "the number before it", "major");
}

// A minus behind the root is minor, except before a 5; behind anything else it is a flat.
bool Parser::dash() {
    if (!draft_.is_bare() || last_ == Last::Open) {
        return number_follows() ? accidental() : unknown(token_);
    }
    if (number_follows() && after().number == 5) return accidental();
    return quality(Quality::Minor, "minor");
}

// A plus behind the root is augmented; behind anything else, and before a number, it is a sharp.
bool Parser::plus() {
    if (!number_follows()) return raise_fifth(take());
    const int number = after().number;
    if (draft_.is_bare() && last_ != Last::Open) {
        switch (number) {
            case 5:
                return accidental();
            case 7:
            case 9:
            case 13:
                return raise_fifth(take());
            case 2:
                return refused(Slip::Ambiguous, token_.begin, after().end, "add2", "");
            case 4:
                return refused(Slip::Ambiguous, token_.begin, after().end, "add#11", "add4");
            case 6:
                return refused(Slip::Ambiguous, token_.begin, after().end, "6", "6(#5)");
            case 11:
                return refused(Slip::Ambiguous, token_.begin, after().end, "7(#11)", "11(#5)");
            default:
                break;
        }
    }
    if (draft_.extension == 6 && number == 9) {
        return refused(Slip::Ambiguous, token_.begin, after().end, "6/9", "6(#9)");
    }
    return accidental();
}

bool Parser::augmented() {
    if (after().word != Word::Number) return raise_fifth(take());
    const int number = after().number;
    if (number == 5 || draft_.extension != 0) return accidental();
    if (number == 11) return refused(Slip::Ambiguous, token_.begin, after().end, "7(#11)", "11(#5)");
    return raise_fifth(take());
}

bool Parser::raise_fifth(Token word) {
    if (draft_.augmented) return refused(Slip::SaidTwice, word, "augmented");
    if (draft_.quality != Quality::Plain) return refused(Slip::Contradiction, word, said(), "augmented");
    if (draft_.altered) {
        draft_.changes |= kSharpFifth;
    } else {
        draft_.augmented = true;
    }
    // A number is still to come in "+7", not in "7+".
    last_ = draft_.extension == 0 ? Last::Name : Last::Change;
    return true;
}

bool Parser::diminished() {
    // "7dim5"
    if (draft_.extension != 0 && after().word == Word::Number && after().number == 5) return accidental();
    return quality(Quality::Diminished, "diminished");
}

bool Parser::altered() {
    const Token word = take();
    if (draft_.altered) return refused(Slip::SaidTwice, word, "alt");
    const bool fits = draft_.quality == Quality::Plain && !draft_.major && !draft_.suspended() &&
                      (draft_.extension == 0 || draft_.extension == 7) &&
                      (draft_.tensions | draft_.added) == 0 && draft_.omitted == 0;
    if (!fits) return refused(Slip::Contradiction, word, "the chord before it", "alt");
    draft_.altered = true;
    if (draft_.augmented) draft_.changes |= kSharpFifth;
    if (draft_.extension == 0 && token_.word == Word::Number && token_.number == 7) take();
    draft_.extension = 7;
    last_ = Last::Change;
    return true;
}

// --- Suspensions
// ----------------------------------------------------------------------------------------------------

bool Parser::suspended() {
    const Token word = take();
    const bool fits = draft_.quality == Quality::Plain || draft_.quality == Quality::Minor;
    if (!fits || draft_.altered) return refused(Slip::Contradiction, word, said(), "sus");
    if (token_.word == Word::Number && (token_.number == 2 || token_.number == 4)) {
        while (suspension_number()) {
        }
        return failure_.slip != Slip::SaidTwice;
    }
    const bool sign = token_.word == Word::Sharp || token_.word == Word::Flat || token_.word == Word::Plus ||
                      token_.word == Word::Dash;
    if (sign && (after().number == 2 || after().number == 4)) {
        return refused(Slip::SuspensionDegree, token_.begin, after().end);
    }
    if (draft_.fourth) return refused(Slip::SaidTwice, word, "sus");
    draft_.fourth = true;
    last_ = Last::Suspension;
    return true;
}

// One digit behind "sus"; "sus24" has two.
bool Parser::suspension_number() {
    if (token_.word != Word::Number || (token_.number != 2 && token_.number != 4)) return false;
    const Token token = take();
    bool& here = token.number == 2 ? draft_.second : draft_.fourth;
    if (here) return refused(Slip::SaidTwice, token, "sus");
    here = true;
    last_ = Last::Number;
    return true;
}

bool Parser::number_after_suspension(Token token) {
    const bool raises = token.number == 7 || token.number == 9 || token.number == 11 || token.number == 13;
    if (!raises) return refused(Slip::SuspensionDegree, token);
    if (draft_.extension != 0 && draft_.extension != 7) return refused(Slip::NumberOutOfPlace, token);
    draft_.extension = token.number;
    last_ = Last::Number;
    return true;
}

// --- Numbers
// --------------------------------------------------------------------------------------------------------

bool is_chord_number(int number) {
    return number == 2 || (number >= 4 && number <= 7) || number == 9 || number == 11 || number == 13;
}

bool Parser::number() {
    const Token token = take();
    if (!is_chord_number(token.number)) return refused(Slip::NoSuchDegree, token, "number");
    if (adding_ && last_ == Last::Separator) return add_tone(token.number, 0, token);
    const bool behind = token_.word == Word::Plus || token_.word == Word::Dash;
    if ((last_ == Last::Open || last_ == Last::Separator) && behind && !token_.blank_before &&
        !number_follows()) {
        return sign_behind_number(token);
    }
    if (last_ == Last::Suspension) return number_after_suspension(token);
    major_waits_ = major_waits_ && (token.number < 7 || last_ != Last::Name);
    return draft_.extension == 0 ? first_number(token) : further_number(token);
}

// "7(9-)", "7/5+": the sign stands behind in Italy and Brazil.
bool Parser::sign_behind_number(Token token) {
    const Token sign = take();
    return change(token.number, sign.word == Word::Plus ? 1 : -1, token);
}

bool Parser::first_number(Token token) {
    const bool names = last_ == Last::Name;
    const bool bare = draft_.is_bare();
    const bool behind_slash = last_ == Last::Separator;
    switch (token.number) {
        case 2:
            if (!names) return refused(Slip::NumberOutOfPlace, token);
            draft_.added |= kSecond;
            break;
        case 4:
            if (!names) return refused(Slip::NumberOutOfPlace, token);
            // C4 is a suspension; where the third was named it stays.
            if (bare)
                draft_.fourth = true;
            else
                draft_.added |= kFourth;
            break;
        case 5:
            if (!names || !bare) return refused(Slip::NumberOutOfPlace, token);
            draft_.quality = Quality::Power;
            break;
        case 6:
            if (draft_.triangle)
                draft_.tensions |= kSixth;
            else
                draft_.extension = 6;
            break;
        case 7:
            if (behind_slash && !draft_.suspended()) return refused(Slip::NumberOutOfPlace, token);
            if (last_ == Last::Number || last_ == Last::Close) return refused(Slip::NumberOutOfPlace, token);
            draft_.extension = 7;
            break;
        default:
            if (!names) return tension(token);
            draft_.extension = token.number;
            break;
    }
    last_ = Last::Number;
    return true;
}

bool Parser::further_number(Token token) {
    const bool apart = last_ == Last::Separator || last_ == Last::Open;
    const bool joined = apart || last_ == Last::Number;
    if (draft_.extension == 6 && token.number == 9 && joined) {
        draft_.tensions |= kNinth;
        last_ = Last::Number;
        return true;
    }
    if (draft_.extension == 6 && token.number == 7 && joined) {
        draft_.extension = 7;
        draft_.tensions |= kSixth;
        last_ = Last::Number;
        return true;
    }
    // The six-nine chord, whichever comes first.
    if (draft_.extension == 9 && token.number == 6 && apart && !draft_.major) {
        draft_.extension = 6;
        draft_.tensions |= kNinth;
        last_ = Last::Number;
        return true;
    }
    return tension(token);
}

// A number in brackets, behind a slash or a comma, or apart from an alteration before it: "7(9,13)", "7b9
// 13".
bool Parser::tension(Token token) {
    const bool apart = last_ == Last::Separator || last_ == Last::Open ||
                       (last_ == Last::Change && token.blank_before) ||
                       (last_ == Last::Number && draft_.triangle && holds(draft_.tensions, kSixth));
    const bool is_tension = token.number == 6 || token.number >= 9;
    if (!apart || !is_tension) return refused(Slip::NumberOutOfPlace, token);
    if (draft_.altered) return refused(Slip::Contradiction, token, "alt", "a natural tension");
    const DegreeSet tone = degree_set(token.number);
    if (holds(draft_.tensions, tone) || token.number == draft_.extension) {
        return refused(Slip::SaidTwice, token, "the number");
    }
    draft_.tensions |= tone;
    last_ = Last::Change;
    return true;
}

// --- Altered, added and missing tones
// -------------------------------------------------------------------------------

bool Parser::accidental() {
    const Token sign = take();
    int alter = 0;
    switch (sign.word) {
        case Word::Sharp:
        case Word::Plus:
        case Word::Augmented:
            alter = 1;
            break;
        case Word::Flat:
        case Word::Dash:
        case Word::Diminished:
            alter = -1;
            break;
        default:
            break;
    }
    // "dim(bb7)"
    if (sign.word == Word::Flat && token_.word == Word::Flat && after().number == 7) {
        take();
        alter = -2;
    }
    if (token_.word != Word::Number) return refused(Slip::NumberExpected, sign, "sign");
    const int number = take().number;
    return change(number, alter, sign);
}

// The degree that a number with an accidental means: #4 is #11, b6 is b13, b2 is b9.
DegreeSet changed_tone(int number, int alter) {
    switch (number) {
        case 2:
            return alter == 0 ? 0 : degree_set(9, alter);
        case 4:
            return alter == 0 ? 0 : degree_set(11, alter);
        case 6:
            return alter == 0 ? 0 : degree_set(6, alter);
        case 3:
        case 7:
            return 0;
        default:
            return degree_set(number, alter);
    }
}

bool Parser::change(int number, int alter, Token first) {
    if (number == 7) return changed_seventh(alter, first);
    const DegreeSet tone = changed_tone(number, alter);
    const std::size_t end = token_.blank_before ? token_.begin - 1 : token_.begin;
    if (tone == 0) {
        return refused(Slip::NoSuchDegree, first.begin, end,
                       alter > 0   ? "#"
                       : alter < 0 ? "b"
                                   : "natural",
                       {}, number);
    }
    if (draft_.quality == Quality::Power) {
        return refused(Slip::Contradiction, first.begin, end, said(), "an altered tone");
    }
    if (draft_.altered && alter == 0) {
        return refused(Slip::Contradiction, first.begin, end, "alt", "a natural tension");
    }
    if (meets(draft_.changes, tone)) return refused(Slip::SaidTwice, first.begin, end, "the alteration");
    if (alter == 0 && tone != kFifth) {
        draft_.tensions |= tone;
    } else {
        draft_.changes |= tone;
    }
    last_ = Last::Change;
    return true;
}

// Only a minor or diminished triad has room for "#7", its major seventh, and a diminished one for "bb7".
bool Parser::changed_seventh(int alter, Token first) {
    const bool triad = draft_.extension == 0 && !draft_.major && draft_.minor_third() &&
                       draft_.quality != Quality::HalfDiminished && !meets(draft_.added, kSevenths);
    const bool major = triad && (alter == 1 || alter == 0);
    const bool diminished =
        alter == -2 && triad && (draft_.quality == Quality::Diminished || holds(draft_.changes, kFlatFifth));
    if (!major && !diminished) {
        const std::string_view sign = alter > 0 ? "#" : alter == -2 ? "bb" : alter < 0 ? "b" : "natural";
        return refused(Slip::NoSuchDegree, first.begin, token_.begin, sign, {}, 7);
    }
    draft_.added |= major ? kSeventh : kDiminishedSeventh;
    last_ = Last::Change;
    return true;
}

bool Parser::add() {
    const Token word = take();
    adding_ = true;
    if (token_.word == Word::Major || token_.word == Word::Triangle) {
        const bool triangle = take().word == Word::Triangle;
        const bool seven = token_.word == Word::Number && token_.number == 7;
        if (!seven && !triangle) return refused(Slip::NumberExpected, word, "add");
        if (seven) take();
        if (draft_.number() >= 7 && draft_.quality != Quality::Diminished) {
            return refused(Slip::Contradiction, word, "the seventh before it", "maj7");
        }
        draft_.added |= kSeventh;
        last_ = Last::Added;
        return true;
    }
    int alter = 0;
    Token first = token_;
    if (token_.word == Word::Sharp || token_.word == Word::Flat) alter = take().word == Word::Sharp ? 1 : -1;
    if (token_.word != Word::Number) return refused(Slip::NumberExpected, word, "add");
    const int number = take().number;
    return add_tone(number, alter, first);
}

bool Parser::add_tone(int number, int alter, Token first) {
    DegreeSet tone = alter == 0 ? degree_set(number) : changed_tone(number, alter);
    if (number == 7 && alter <= 0) tone = kFlatSeventh;
    const std::size_t end = token_.blank_before ? token_.begin - 1 : token_.begin;
    const std::string_view sign = alter > 0 ? "#" : alter < 0 ? "b" : "add";
    const bool third_missing = draft_.suspended() || draft_.quality == Quality::Power;
    const bool has_place = number == 3   ? third_missing && alter == 0 && draft_.quality != Quality::Power
                           : number == 7 ? draft_.number() < 7 && alter <= 0
                           : number == 5 ? alter != 0
                                         : true;
    if (tone == 0 || !has_place) return refused(Slip::NoSuchDegree, first.begin, end, sign, {}, number);
    if (draft_.altered && alter == 0) {
        return refused(Slip::Contradiction, first.begin, end, "alt", "a natural tension");
    }
    if (meets(draft_.added, tone)) return refused(Slip::SaidTwice, first.begin, end, "the added tone");
    if (number == 3)
        draft_.keeps_third = true;
    else
        draft_.added |= tone;
    last_ = Last::Added;
    return true;
}

bool Parser::omit() {
    const Token word = take();
    if (token_.word != Word::Number) return refused(Slip::NumberExpected, word, "no");
    const Token token = take();
    const int number = token.number;
    const int named = draft_.number();
    // "11(no3)" is said often though there is none; nobody means anything else by it.
    const bool there =
        number == 3 || number == 5 || (number == 7 && named >= 7) ||
        ((number == 9 || number == 11) && (named >= number || holds(draft_.tensions, degree_set(number))));
    if (!there || draft_.altered) return refused(Slip::NothingToLeaveOut, token);
    draft_.omitted |= degrees_numbered(number);
    last_ = Last::Added;
    return true;
}

// --- Brackets, commas, slashes
// --------------------------------------------------------------------------------------

bool Parser::open() {
    const Token token = take();
    if (bracket_ != '\0') return refused(Slip::BracketInBracket, token);
    if (token_.word == Word::Close && token_.opens == token.opens) {
        return refused(Slip::BracketEmpty, token.begin, token_.end);
    }
    bracket_ = token.opens;
    opened_ = token.begin;
    last_ = Last::Open;
    return true;
}

bool Parser::close() {
    const Token token = take();
    if (bracket_ != token.opens) return refused(Slip::BracketClosed, token);
    if (last_ == Last::Open || last_ == Last::Separator) return refused(Slip::CommaOutOfPlace, token);
    bracket_ = '\0';
    last_ = Last::Close;
    return true;
}

bool Parser::comma() {
    const Token token = take();
    const bool first = draft_.is_bare() || last_ == Last::Open || last_ == Last::Separator;
    if (first || token_.word == Word::End || token_.word == Word::Close)
        return refused(Slip::CommaOutOfPlace, token);
    last_ = Last::Separator;
    return true;
}

// In brackets a slash only separates. Elsewhere a note behind it is the bass, a number or a sign with a
// number one more tone, and "m/maj7" is what it looks like.
bool Parser::slash() {
    if (bracket_ != '\0') return comma();
    const Token next = after();
    const char c = text_.at(next.begin);
    if (c >= 'A' && c <= 'G' && next.word != Word::Add) return bass();
    const Token token = take();
    const bool sign = token_.word == Word::Sharp || token_.word == Word::Flat || token_.word == Word::Plus ||
                      token_.word == Word::Dash;
    const bool major = token_.word == Word::Major || token_.word == Word::Triangle;
    const bool separates = token_.word == Word::Number || token_.word == Word::Add ||
                           (sign && number_follows()) || (major && draft_.quality == Quality::Minor);
    if (!separates || last_ == Last::Separator) {
        return refused(Slip::BassExpected, token.begin, text_.size);
    }
    last_ = Last::Separator;
    return true;
}

bool Parser::bass() {
    const Token token = take();
    const NoteRead note = note_at(text_, token_.begin, false);
    if (!note.name) return refused(note.slip, note.begin, note.end);
    bass_ = note.name;
    token_ = token_at(text_, note.end);
    if (token_.word == Word::Slash) return refused(Slip::SecondBass, token_.begin, text_.size);
    if (token_.word != Word::End) return refused(Slip::ChordUnderSlash, token.begin + 1, text_.size);
    return true;
}

}  // namespace

std::optional<ChordSymbol> parse_chord(const PlainText& text, Failure& failure) {
    return Parser{text, failure}.run();
}

}  // namespace shedbook
