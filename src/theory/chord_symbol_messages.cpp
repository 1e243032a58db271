#include "chord_symbol_messages.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "chord_symbol_nearest.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

std::string quoted(std::string_view text) {
    return "'" + std::string{text} + "'";
}
std::string write_this(std::string_view symbol) {
    return "write " + quoted(symbol);
}

struct Message {
    std::string text;
    std::string hint = {};
    std::optional<Span> place = {};  // in the symbol, where that is not the place of the failure
};

// What was typed, cut at the places that matter.
struct Typed {
    std::string_view whole;
    std::string_view before;
    std::string_view fault;
};

struct ForeignName {
    std::string_view name;
    std::string_view ours;
};

// German names; H is B natural there, and their B our Bb.
constexpr std::array<ForeignName, 22> kGermanNames{{
    {"Cisis", "C##"}, {"Fisis", "F##"}, {"Gisis", "G##"}, {"Heses", "Bbb"}, {"Eses", "Ebb"}, {"Ases", "Abb"},
    {"Cis", "C#"},    {"Dis", "D#"},    {"Eis", "E#"},    {"Fis", "F#"},    {"Gis", "G#"},   {"Ais", "A#"},
    {"His", "B#"},    {"Ces", "Cb"},    {"Des", "Db"},    {"Fes", "Fb"},    {"Ges", "Gb"},   {"Bes", "Bb"},
    {"Es", "Eb"},     {"As", "Ab"},     {"Hb", "Bb"},     {"H", "B"},
}};

// The syllables that cannot be taken for one of our symbols ("Do" is D diminished).
constexpr std::array<ForeignName, 7> kSyllables{{
    {"Sol", "G"},
    {"R\u00E9", "D"},
    {"Re", "D"},
    {"Mi", "E"},
    {"Fa", "F"},
    {"La", "A"},
    {"Si", "B"},
}};

template <std::size_t N>
const ForeignName* foreign_name(std::string_view text, const std::array<ForeignName, N>& names) {
    const auto found =
        std::ranges::find_if(names, [&](const ForeignName& n) { return text.starts_with(n.name); });
    return found == names.end() ? nullptr : &*found;
}

// A message where the text from byte `at` on begins with a foreign name.
std::optional<Message> foreign(const Typed& typed, std::size_t at) {
    const std::string_view text = typed.whole.substr(at);
    const ForeignName* german = foreign_name(text, kGermanNames);
    const ForeignName* syllable = german == nullptr ? foreign_name(text, kSyllables) : nullptr;
    const ForeignName* name = german != nullptr ? german : syllable;
    if (name == nullptr) return std::nullopt;
    const std::string ours = std::string{typed.whole.substr(0, at)} + std::string{name->ours} +
                             std::string{text.substr(name->name.size())};
    // "Asu4" is a slip, not German.
    if (!is_readable(ours) && name->name != "H") return std::nullopt;
    Message out;
    if (german == nullptr) {
        out.text = quoted(name->name) + " is a syllable; notes are called A to G here";
    } else if (name->name == "H") {
        out.text = "'H' is called B here, and the German B is Bb";
    } else {
        out.text =
            quoted(name->name) + " is a German name; the note is called " + std::string{name->ours} + " here";
    }
    if (is_readable(ours)) out.hint = write_this(ours);
    out.place = Span{at, at + name->name.size()};
    return out;
}

// How many bytes of accidentals stand at the beginning.
std::size_t leading_accidentals(std::string_view text) {
    std::size_t at = 0;
    for (bool more = true; more;) {
        more = false;
        for (const std::string_view sign : {"b", "#", "\u266D", "\u266F"}) {
            if (!text.substr(at).starts_with(sign)) continue;
            at += sign.size();
            more = true;
        }
    }
    return at;
}

// "IVmaj7", "bVII", "V7/ii", "2-7"; not "Verse". "b7" is a B in small letters.
bool is_degree(std::string_view text) {
    const bool small_b = text.front() == 'b';
    text.remove_prefix(leading_accidentals(text));
    std::size_t length = std::min(text.find_first_not_of("IViv"), text.size());
    if (length == 0 && !small_b && !text.empty() && text.front() >= '1' && text.front() <= '7') length = 1;
    const std::string_view before_slash = text.substr(0, text.find('/'));
    return length != 0 && is_readable("C" + std::string{before_slash.substr(length)});
}

// "bB7" for "Bb7", at byte `at`.
std::optional<Message> accidental_before_note(std::string_view text, std::size_t at) {
    const std::size_t length = leading_accidentals(text.substr(at));
    const std::size_t note = at + length;
    if (length == 0 || note >= text.size()) return std::nullopt;
    std::string turned{text};
    std::rotate(turned.begin() + static_cast<std::ptrdiff_t>(at),
                turned.begin() + static_cast<std::ptrdiff_t>(note),
                turned.begin() + static_cast<std::ptrdiff_t>(note + 1));
    if (!is_readable(turned)) return std::nullopt;
    return Message{"an accidental stands behind its note", write_this(turned), Span{at, note + 1}};
}

// "(C7)"; a chart takes a bracketed chord for an optional one.
std::optional<Message> whole_in_brackets(std::string_view text) {
    const bool brackets = text.size() > 2 && ((text.front() == '(' && text.back() == ')') ||
                                              (text.front() == '[' && text.back() == ']'));
    if (!brackets) return std::nullopt;
    const std::string inside{text.substr(1, text.size() - 2)};
    if (!is_readable(inside)) return std::nullopt;
    return Message{"a chord symbol has no brackets around it", write_this(inside)};
}

Message no_root(const Typed& typed) {
    const std::string_view text = typed.whole;
    if (is_no_chord(text)) return {quoted(text) + " says that there is no chord; a chord was expected here"};
    if (const auto message = foreign(typed, 0)) return *message;
    if (const auto message = accidental_before_note(text, 0)) return *message;
    if (const auto message = whole_in_brackets(text)) return *message;
    if (is_degree(text)) {
        return {quoted(text) + " names a degree; a chord begins with its root, A to G",
                "write the note, as in 'G7'"};
    }
    if (text.front() >= 'a' && text.front() <= 'g') {
        std::string capital{text};
        capital.front() = static_cast<char>(capital.front() - 'a' + 'A');
        Message out{"the root of a chord is a capital letter"};
        if (!is_readable(capital)) return out;
        out.hint = write_this(capital);
        // In German a small letter alone is a minor chord.
        if (parse_pitch_class(capital)) out.hint += ", or " + quoted(capital + "m") + " for minor";
        return out;
    }
    if (text == "-" || text == "\u2013")
        return {"a dash is no chord",
                "% plays the bar before again, / lets its chord go on, N.C. is silence"};
    return {"expected a root, A to G, but found " + quoted(typed.fault)};
}

Message number_expected(const Failure& failure, const Typed& typed) {
    if (failure.first == "add") return {"expected what is added, as in 'add9'"};
    if (failure.first == "no") return {"expected what is left out, as in 'no3'"};
    return {"expected 5, 9, 11 or 13 after " + quoted(typed.fault)};
}

// "C/3" is written by people who mean the third in the bass.
std::string bass_by_degree(const Failure& failure, const Typed& typed) {
    const bool in_chord = failure.number == 3 || failure.number == 5 || failure.number == 7;
    return in_chord && trimmed(typed.before).ends_with('/') ? "a bass note is named, as in 'C/E'" : "";
}

Message no_such_degree(const Failure& failure, const Typed& typed) {
    const std::string number = std::to_string(failure.number);
    if (failure.first == "number") {
        Message out{"no chord has the number " + number + "; 2, 4, 5, 6, 7, 9, 11 and 13 are used",
                    bass_by_degree(failure, typed)};
        if (failure.number == 0) out.hint = "a diminished chord is written 'dim' or '\u00B0'";
        return out;
    }
    if (failure.first == "add") return {number + " cannot be added to this chord"};
    Message out{"no chord tone is called " + quoted(typed.fault)};
    const std::string sign{failure.first};
    if (failure.number == 7 && sign == "b") out.hint = "the flat seventh is written 7, as in 'C7'";
    if (failure.number == 7 && sign == "#") out.hint = "the major seventh is written maj7, as in 'Cmaj7'";
    if (failure.number == 3 && sign == "b") out.hint = "the minor third is written m, as in 'Cm'";
    if (failure.number == 10 && sign == "b") out.hint = "it is written #9, as in 'C7(#9)'";
    return out;
}

// The two things that an ambiguous spelling may mean, on this root.
Message ambiguous(const Failure& failure, const Typed& typed) {
    Message out{quoted(std::string{typed.before} + std::string{typed.fault}) + " is read in two ways"};
    const auto meaning = [&](std::string_view suffix) {
        const std::string before{failure.first.starts_with("6/9")
                                     ? typed.before.substr(0, typed.before.size() - 1)
                                     : typed.before};
        return quoted(before + std::string{suffix});
    };
    out.hint = "write " + meaning(failure.first);
    if (!failure.second.empty()) out.hint += " or " + meaning(failure.second);
    return out;
}

Message number_out_of_place(const Failure& failure, const Typed& typed) {
    Message out{"the number " + std::to_string(failure.number) + " has no meaning here",
                bass_by_degree(failure, typed)};
    if (failure.number == 2) out.hint = "a second is written sus2 or add9";
    if (failure.number == 4) out.hint = "a fourth is written sus4 or add11";
    return out;
}

Message bracket_closed(const Typed& typed) {
    return {"nothing is open that " + quoted(typed.fault) + " could close"};
}

Message bass_expected(const Typed& typed) {
    Message out{"expected a bass note, A to G, after '/'"};
    const std::size_t at = typed.before.size();
    if (typed.whole.substr(at) != typed.fault || at == 0) return out;
    const char first = typed.fault.front();
    if (first == '/' || typed.fault.starts_with("\u2044")) return out;
    if (const auto message = foreign(typed, at)) return *message;
    if (const auto message = accidental_before_note(typed.whole, at)) return *message;
    out.text += ", but found " + quoted(typed.fault);
    if (first >= 'a' && first <= 'g') {
        std::string capital{typed.whole};
        capital[at] = static_cast<char>(first - 'a' + 'A');
        if (is_readable(capital)) out.hint = write_this(capital);
    }
    return out;
}

Message chord_under_slash(const Typed& typed) {
    if (const auto message = foreign(typed, typed.before.size())) return *message;
    return {"a chord over a chord is not read; behind '/' stands one bass note"};
}

// What stands over the bars of a chart and begins like a chord.
bool is_direction(std::string_view text) {
    return text == "Fine" || text == "Coda" || text.starts_with("D.C") || text.starts_with("D.S");
}

Message unknown(const Typed& typed) {
    if (is_direction(typed.whole))
        return {quoted(typed.whole) + " is a direction; a chord was expected here"};
    if (typed.before.size() <= 2) {
        if (const auto message = foreign(typed, 0)) return *message;
    }
    return {"expected a quality, a number or an alteration after " + quoted(trimmed(typed.before)) +
            ", but found " + quoted(typed.fault)};
}

// "Do" alone is D diminished, so that it is a syllable only in what cannot be read otherwise: "Dom7".
std::optional<Message> syllable_do(const Typed& typed) {
    if (!typed.whole.starts_with("Do")) return std::nullopt;
    const std::string ours = "C" + std::string{typed.whole.substr(2)};
    if (!is_readable(ours)) return std::nullopt;
    return Message{"'Do' is a syllable; notes are called A to G here", write_this(ours), Span{0, 2}};
}

Message message_for(const Failure& failure, const Typed& typed) {
    if (const auto message = syllable_do(typed)) return *message;
    const std::string first{failure.first};
    const std::string second{failure.second};
    switch (failure.slip) {
        case Slip::Empty:
            return {"expected a chord symbol", "for example 'Dm7'"};
        case Slip::TooLong:
            return {"this is too long for a chord symbol"};
        case Slip::NoRoot:
            return no_root(typed);
        case Slip::MixedAccidentals:
            return {"a note is sharp or flat, not both"};
        case Slip::ManyAccidentals:
            return {"a note has at most two sharps or flats"};
        case Slip::Unknown:
            return unknown(typed);
        case Slip::SecondChord:
            return {"one chord was expected, and a second begins with " + quoted(typed.fault)};
        case Slip::SaidTwice:
            return {first + " is said twice"};
        case Slip::Contradiction:
            return {first + " and " + second + " do not go together"};
        case Slip::NumberExpected:
            return number_expected(failure, typed);
        case Slip::NoSuchDegree:
            return no_such_degree(failure, typed);
        case Slip::NumberOutOfPlace:
            return number_out_of_place(failure, typed);
        case Slip::Ambiguous:
            return ambiguous(failure, typed);
        case Slip::MajorWithoutNumber:
            return {"expected 7, 9, 11 or 13 after " + quoted(typed.fault)};
        case Slip::SuspensionDegree:
            return {"a chord is suspended by a 2 or a 4, not by " + quoted(typed.fault)};
        case Slip::NothingToLeaveOut:
            return {"there is no " + std::to_string(failure.number) + " that could be left out"};
        case Slip::NothingLeft:
            return {"nothing is left of this chord but its root"};
        case Slip::BracketOpen:
            return {"this bracket is not closed"};
        case Slip::BracketClosed:
            return bracket_closed(typed);
        case Slip::BracketEmpty:
            return {"these brackets are empty"};
        case Slip::BracketInBracket:
            return {"a bracket in a bracket; one is enough"};
        case Slip::CommaOutOfPlace:
            return {"expected a tone before and behind " + quoted(typed.fault)};
        case Slip::BassExpected:
            return bass_expected(typed);
        case Slip::SecondBass:
            return {"a chord has one bass note"};
        case Slip::ChordUnderSlash:
            return chord_under_slash(typed);
    }
    return {};
}

}  // namespace

void warn_of_double_root(const ChordSymbol& symbol, const SourceText& source, Span where,
                         Diagnostics& diagnostics) {
    const std::string_view text =
        trimmed(std::string_view{source.text}.substr(where.begin, where.end - where.begin));
    const std::string root = to_string(symbol.root);
    if (text.size() > 1 && text[1] == 'x') {
        const std::string meant = root + std::string{text.substr(2)};
        diagnostics.warning(source, where, "'x' is taken for a double sharp",
                            "write " + quoted(meant) + " if that is meant");
        return;
    }
    if (root.size() != 3 || !text.starts_with(root) || text.size() == root.size()) return;
    const std::string_view number = text.substr(root.size());
    const bool flat = root.back() == 'b';
    const bool alterable =
        number.front() == '5' || number.front() == '9' || number.starts_with(flat ? "13" : "11");
    if (!alterable) return;
    const std::string one = root.substr(0, 2) + "(" + root.back() + std::string{number} + ")";
    diagnostics.warning(source, where, quoted(root) + " is taken for the root",
                        "for the other reading write " + quoted(one));
}

void report(const Failure& failure, const SourceText& source, Span where, Diagnostics& diagnostics) {
    const std::string_view text = std::string_view{source.text}.substr(where.begin, where.end - where.begin);
    const std::size_t begin = std::min(failure.begin, text.size());
    const std::size_t end = std::clamp(failure.end, begin, text.size());
    const std::string_view whole = trimmed(text);
    const std::size_t skipped = whole.empty() ? 0 : static_cast<std::size_t>(whole.data() - text.data());
    const Typed typed{whole, text.substr(std::min(skipped, begin), begin - std::min(skipped, begin)),
                      trimmed(text.substr(begin, end - begin))};
    Message message = message_for(failure, typed);
    std::vector<Mending> mendings;
    const std::size_t from = where.begin + skipped;
    if (message.hint.empty() && !is_direction(whole) && begin >= skipped && end <= skipped + whole.size()) {
        for (const std::string& near : nearest_symbols(failure.slip, whole, begin - skipped, end - skipped)) {
            message.hint += (message.hint.empty() ? "did you mean " : " or ") + quoted(near);
            mendings.push_back({{from, from + whole.size()}, near});
        }
        if (!message.hint.empty()) message.hint += "?";
    }
    Span span{where.begin + begin, where.begin + end};
    if (message.place) {
        span = {from + message.place->begin, from + message.place->end};
    }
    diagnostics.error(source, span, std::move(message.text), std::move(message.hint), std::move(mendings));
}

}  // namespace shedbook
