#include "chord_symbol_grammar.h"

namespace shedbook {
namespace {

bool is_chord_number(int number) {
    return number == 2 || (number >= 4 && number <= 7) || number == 9 || number == 11 || number == 13;
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

std::string_view sign_name(int alter) {
    switch (alter) {
        case -2:
            return "bb";
        case -1:
            return "b";
        case 1:
            return "#";
        default:
            return "natural";
    }
}

}  // namespace

bool SymbolParser::number() {
    const SymbolToken token = take();
    const bool left_out = token.number == 3 || token.number == 5;
    if (list_ == Word::Omit && last_ == Last::Separator && left_out) return omit_number(token);
    if (!is_chord_number(token.number)) return refused(Slip::NoSuchDegree, token, "number");
    if (list_ == Word::Add && last_ == Last::Separator) return add_tone(token.number, 0, token);
    const bool suspends = token.number == 2 || token.number == 4;
    if (last_ == Last::Separator && draft_.suspended() && suspends) return suspension_tone(token);
    const bool apart = last_ == Last::Open || last_ == Last::Separator;
    if (apart && is_sign(token_.word) && !token_.blank_before && !number_follows())
        return sign_behind_number(token);
    if (last_ == Last::Suspension) return number_after_suspension(token);
    major_waits_ = major_waits_ && (token.number < 7 || last_ != Last::Name);
    return draft_.extension == 0 ? first_number(token) : further_number(token);
}

// "7(9-)", "7/5+", "7(9b)": the sign stands behind in Italy and Brazil.
bool SymbolParser::sign_behind_number(SymbolToken token) {
    const SymbolToken sign = take();
    const bool up = sign.word == Word::Plus || sign.word == Word::Sharp;
    return change(token.number, up ? 1 : -1, token);
}

bool SymbolParser::may_come_first(int number) const {
    switch (number) {
        case 5:
            return last_ == Last::Name && draft_.is_bare();  // "C5", never "Cm5"
        case 6:
            return true;  // "C/6", "C(6,9)"
        case 7:
            if (last_ == Last::Separator) return draft_.suspended();
            return last_ != Last::Number && last_ != Last::Close;
        default:
            return last_ == Last::Name;
    }
}

bool SymbolParser::first_number(SymbolToken token) {
    const bool bare = draft_.is_bare();
    if (token.number > 7 && last_ != Last::Name) return tension(token);
    if (!may_come_first(token.number)) return refused(Slip::NumberOutOfPlace, token);
    last_ = Last::Number;
    switch (token.number) {
        case 2:
            draft_.added |= kSecond;
            break;
        case 4:
            // C4 is a suspension; where the third was named it stays.
            draft_.fourth = bare;
            draft_.added |= bare ? 0 : kFourth;
            break;
        case 5:
            draft_.quality = Quality::Power;
            break;
        case 6:
            // A triangle has its seventh already.
            if (!draft_.triangle) draft_.extension = 6;
            draft_.tensions |= draft_.triangle ? kSixth : 0;
            break;
        default:
            draft_.extension = token.number;
            break;
    }
    return true;
}

bool SymbolParser::further_number(SymbolToken token) {
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
bool SymbolParser::tension(SymbolToken token) {
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

bool SymbolParser::accidental() {
    const SymbolToken sign = take();
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

bool SymbolParser::change(int number, int alter, SymbolToken first) {
    if (number == 7) return changed_seventh(alter, first);
    const DegreeSet tone = changed_tone(number, alter);
    const std::size_t end = end_of_last();
    if (tone == 0) return refused(Slip::NoSuchDegree, first.begin, end, sign_name(alter), {}, number);
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

bool SymbolParser::changed_seventh(int alter, SymbolToken first) {
    const DegreeSet tone = alter == -2 ? kDiminishedSeventh : alter == -1 ? 0 : kSeventh;
    if (!draft_.has_room_for_seventh(tone)) {
        return refused(Slip::NoSuchDegree, first.begin, end_of_last(), sign_name(alter), {}, 7);
    }
    draft_.added |= tone;
    last_ = Last::Change;
    return true;
}

bool SymbolParser::add() {
    const SymbolToken word = take();
    list_ = Word::Add;
    if (opens_list() && !open()) return false;
    if (token_.word == Word::Major || token_.word == Word::Triangle) return add_major_seventh(word);
    int alter = 0;
    const SymbolToken first = token_;
    if (token_.word == Word::Sharp || token_.word == Word::Flat) alter = take().word == Word::Sharp ? 1 : -1;
    if (token_.word != Word::Number) return refused(Slip::NumberExpected, word, "add");
    const int number = take().number;
    return add_tone(number, alter, first);
}

bool SymbolParser::add_major_seventh(SymbolToken word) {
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

bool SymbolParser::add_tone(int number, int alter, SymbolToken first) {
    const DegreeSet tone = number == 7 && alter <= 0 ? kFlatSeventh
                           : alter == 0              ? degree_set(number)
                                                     : changed_tone(number, alter);
    if (tone == 0 || !draft_.has_room_for(number, alter)) {
        const std::string_view sign = alter == 0 ? "add" : sign_name(alter);
        return refused(Slip::NoSuchDegree, first.begin, end_of_last(), sign, {}, number);
    }
    if (draft_.altered && alter == 0) {
        return refused(Slip::Contradiction, first.begin, end_of_last(), "alt", "a natural tension");
    }
    if (meets(draft_.added, tone))
        return refused(Slip::SaidTwice, first.begin, end_of_last(), "the added tone");
    draft_.keeps_third = draft_.keeps_third || number == 3;
    draft_.added |= number == 3 ? 0 : tone;
    last_ = Last::Added;
    return true;
}

bool SymbolParser::omit() {
    const SymbolToken word = take();
    list_ = Word::Omit;
    if (opens_list() && !open()) return false;
    if (token_.word != Word::Number) return refused(Slip::NumberExpected, word, "no");
    return omit_number(take());
}

bool SymbolParser::omit_number(SymbolToken token) {
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

}  // namespace shedbook
