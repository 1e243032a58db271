#include "chord_symbol_grammar.h"

namespace shedbook {

bool SymbolParser::quality(Quality quality, std::string_view name) {
    const SymbolToken word = take();
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

bool SymbolParser::dominant() {
    const SymbolToken word = take();
    if (draft_.dominant) return refused(Slip::SaidTwice, word, "dominant");
    if (!draft_.is_bare()) return refused(Slip::Contradiction, word, said(), "dominant");
    draft_.dominant = true;
    last_ = Last::Name;
    return true;
}

bool SymbolParser::power() {
    const SymbolToken word = take();
    if (!draft_.is_bare()) return refused(Slip::Contradiction, word, said(), "power");
    draft_.quality = Quality::Power;
    last_ = Last::Number;
    return true;
}

bool SymbolParser::major() {
    const SymbolToken word = take();
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
bool SymbolParser::late_major(SymbolToken word, bool with_seven) {
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

// A minus behind the root is minor, except before a 5; behind anything else it is a flat. In "minor-major" it
// only joins two words.
bool SymbolParser::dash() {
    const Word next = after().word;
    const bool joins = draft_.quality == Quality::Minor && last_ == Last::Name &&
                       text_.at(token_.begin - 1) != '-' && (next == Word::Major || next == Word::Triangle);
    if (joins) {
        take();
        return major();
    }
    if (!draft_.is_bare() || last_ == Last::Open) {
        return number_follows() ? accidental() : unknown(token_);
    }
    if (number_follows() && after().number == 5) return accidental();
    return quality(Quality::Minor, "minor");
}

// A plus behind the root is augmented; behind anything else, and before a number, it is a sharp.
bool SymbolParser::plus() {
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
                return refused(Slip::Ambiguous, token_.begin, after().end, "add2", "+(add2)");
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

bool SymbolParser::augmented() {
    if (after().word != Word::Number) return raise_fifth(take());
    const int number = after().number;
    if (number == 5 || draft_.extension != 0) return accidental();
    if (number == 11) return refused(Slip::Ambiguous, token_.begin, after().end, "7(#11)", "11(#5)");
    return raise_fifth(take());
}

bool SymbolParser::raise_fifth(SymbolToken word) {
    if (draft_.augmented) return refused(Slip::SaidTwice, word, "augmented");
    // "m+" is a minor chord with a raised fifth; an augmented chord is major.
    const bool sign_over_minor = draft_.quality == Quality::Minor && word.word == Word::Plus;
    if (draft_.quality != Quality::Plain && !sign_over_minor) {
        return refused(Slip::Contradiction, word, said(), "augmented");
    }
    if (draft_.altered) {
        draft_.changes |= kSharpFifth;
    } else {
        draft_.augmented = true;
    }
    // A number is still to come in "+7", not in "7+".
    last_ = draft_.extension == 0 ? Last::Name : Last::Change;
    return true;
}

bool SymbolParser::diminished() {
    // "7dim5"
    if (draft_.extension != 0 && after().word == Word::Number && after().number == 5) return accidental();
    return quality(Quality::Diminished, "diminished");
}

bool SymbolParser::altered() {
    const SymbolToken word = take();
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

bool SymbolParser::suspended() {
    const SymbolToken word = take();
    const bool fits = draft_.quality == Quality::Plain || draft_.quality == Quality::Minor;
    if (!fits || draft_.altered) return refused(Slip::Contradiction, word, said(), "sus");
    if (token_.word == Word::Number && (token_.number == 2 || token_.number == 4)) {
        while (suspension_number()) {
        }
        return failure_.slip != Slip::SaidTwice;
    }
    if (is_sign(token_.word) && (after().number == 2 || after().number == 4)) {
        return refused(Slip::SuspensionDegree, token_.begin, after().end);
    }
    if (draft_.fourth) return refused(Slip::SaidTwice, word, "sus");
    draft_.fourth = true;
    last_ = Last::Suspension;
    return true;
}

// One digit behind "sus"; "sus24" has two.
bool SymbolParser::suspension_number() {
    if (token_.word != Word::Number || (token_.number != 2 && token_.number != 4)) return false;
    return suspension_tone(take());
}

bool SymbolParser::suspension_tone(SymbolToken token) {
    bool& here = token.number == 2 ? draft_.second : draft_.fourth;
    if (here) return refused(Slip::SaidTwice, token, "sus");
    here = true;
    last_ = Last::Number;
    return true;
}

bool SymbolParser::number_after_suspension(SymbolToken token) {
    const bool raises = token.number == 7 || token.number == 9 || token.number == 11 || token.number == 13;
    if (!raises) return refused(Slip::SuspensionDegree, token);
    if (draft_.extension != 0 && draft_.extension != 7) return refused(Slip::NumberOutOfPlace, token);
    draft_.extension = token.number;
    last_ = Last::Number;
    return true;
}

}  // namespace shedbook
