#include "chord_symbol_messages.h"

#include <algorithm>
#include <array>
#include <cstdlib>

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

bool is_readable(const std::string& text) {
    return parse_chord_symbol(text).has_value();
}

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

bool is_roman(std::string_view text) {
    const std::size_t end = text.find_first_not_of("IVXiv");
    const std::string_view numeral = text.substr(0, end);
    return !numeral.empty() && text.front() != 'X' && text.front() != 'b';
}

Message no_root(const Typed& typed) {
    const std::string_view text = typed.whole;
    if (is_no_chord(text)) return {quoted(text) + " says that there is no chord; a chord was expected here"};
    if (const auto message = foreign(typed, 0)) return *message;
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
    if (is_roman(text)) {
        return {quoted(text) + " names a degree; a chord begins with its root, A to G",
                "write the note, as in 'G7'"};
    }
    return {"expected a root, A to G, but found " + quoted(typed.fault)};
}

Message number_expected(const Failure& failure, const Typed& typed) {
    if (failure.first == "add") return {"expected what is added, as in 'add9'"};
    if (failure.first == "no") return {"expected what is left out, as in 'no3'"};
    return {"expected 5, 9, 11 or 13 after " + quoted(typed.fault)};
}

Message no_such_degree(const Failure& failure, const Typed& typed) {
    const std::string number = std::to_string(failure.number);
    if (failure.first == "number") {
        Message out{"no chord has the number " + number + "; 2, 4, 5, 6, 7, 9, 11 and 13 are used"};
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

Message number_out_of_place(const Failure& failure) {
    Message out{"the number " + std::to_string(failure.number) + " has no meaning here"};
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

Message unknown(const Typed& typed) {
    if (typed.before.size() <= 2) {
        if (const auto message = foreign(typed, 0)) return *message;
    }
    return {"expected a quality, a number or an alteration after " + quoted(trimmed(typed.before)) +
            ", but found " + quoted(typed.fault)};
}

Message message_for(const Failure& failure, const Typed& typed) {
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
            return number_out_of_place(failure);
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

std::string if_readable(const std::string& text) {
    return is_readable(text) ? text : std::string{};
}

std::string without(std::string_view text, std::size_t begin, std::size_t end) {
    return std::string{trimmed(text.substr(0, begin))} + std::string{text.substr(end)};
}

// The first readable text that an edit makes of a text, letter by letter, at one of the places [first, last).
template <class Edit>
std::string edited(std::string_view text, std::size_t first, std::size_t last, Edit edit) {
    constexpr std::string_view kLetters = "majinsudlt";
    for (std::size_t i = first; i < last; ++i) {
        for (const char letter : kLetters) {
            std::string changed{text};
            edit(changed, i, letter);
            if (is_readable(changed)) return changed;
        }
    }
    return {};
}

// A word that is one slip of the finger away from what was typed near [begin, end): two letters changed
// round, one too many, missing or wrong.
std::string with_word_mended(std::string_view text, std::size_t begin, std::size_t end) {
    const std::size_t first = begin > 2 ? begin - 1 : 1;
    const std::size_t last = std::min(text.size(), end + 1);
    for (std::size_t i = first; i + 1 < last; ++i) {
        std::string changed{text};
        std::swap(changed[i], changed[i + 1]);
        if (is_readable(changed)) return changed;
    }
    if (end == begin + 1 && is_readable(without(text, begin, end))) return without(text, begin, end);
    const auto insert = [](std::string& changed, std::size_t at, char letter) {
        changed.insert(at, 1, letter);
    };
    const auto replace = [](std::string& changed, std::size_t at, char letter) { changed[at] = letter; };
    const std::string inserted = edited(text, first, last, insert);
    return inserted.empty() ? edited(text, first, last, replace) : inserted;
}

// The readable symbol nearest to a text, where the slip is of a kind that has one. A wrong beginning, a
// number that does not exist or qualities that contradict each other have none: any guess would be another
// chord.
std::string nearest_symbol(Slip slip, std::string_view text, std::size_t begin, std::size_t end) {
    constexpr std::size_t kLongest = 24;  // of what is worth mending
    if (text.size() > kLongest) return {};
    switch (slip) {
        case Slip::Unknown:
            return with_word_mended(text, begin, end);
        case Slip::NumberOutOfPlace: {
            std::string bracketed = std::string{trimmed(text.substr(0, begin))} + "(" +
                                    std::string{text.substr(begin, end - begin)} + ")" +
                                    std::string{text.substr(end)};
            if (is_readable(bracketed)) return bracketed;
            return if_readable(without(text, begin, end));
        }
        case Slip::SaidTwice:
        case Slip::CommaOutOfPlace:
        case Slip::BracketEmpty:
        case Slip::BracketInBracket:
            return if_readable(without(text, begin, end));
        case Slip::MajorWithoutNumber:
            return if_readable(std::string{text.substr(0, end)} + "7" + std::string{text.substr(end)});
        case Slip::BracketOpen:
            return if_readable(std::string{text} + (text[begin] == '[' ? ']' : ')'));
        case Slip::BracketClosed: {
            std::string other{text};
            other[begin] = text[begin] == ']' ? ')' : ']';
            return is_readable(other) ? other : if_readable(without(text, begin, end));
        }
        default:
            return {};
    }
}

}  // namespace

void warn_of_double_root(const ChordSymbol& symbol, const SourceText& source, Span where,
                         Diagnostics& diagnostics) {
    const std::string_view text =
        trimmed(std::string_view{source.text}.substr(where.begin, where.end - where.begin));
    const std::string root = to_string(symbol.root);
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
    if (message.hint.empty() && begin >= skipped && end <= skipped + whole.size()) {
        const std::string near = nearest_symbol(failure.slip, whole, begin - skipped, end - skipped);
        if (!near.empty()) message.hint = "did you mean " + quoted(near) + "?";
    }
    Span span{where.begin + begin, where.begin + end};
    if (message.place) {
        span = {where.begin + skipped + message.place->begin, where.begin + skipped + message.place->end};
    }
    diagnostics.error(source, span, std::move(message.text), std::move(message.hint));
}

}  // namespace shedbook
