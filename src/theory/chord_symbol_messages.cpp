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

// --- Names of other lands
// ---------------------------------------------------------------------------------------------

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
    Message out;
    if (german == nullptr) {
        out.text = quoted(name->name) + " is a syllable; notes are called A to G here";
    } else if (name->name == "H") {
        out.text = "'H' is called B here, and the German B is Bb";
    } else {
        out.text =
            quoted(name->name) + " is a German name; the note is called " + std::string{name->ours} + " here";
    }
    const std::string ours = std::string{typed.whole.substr(0, at)} + std::string{name->ours} +
                             std::string{text.substr(name->name.size())};
    if (is_readable(ours)) out.hint = write_this(ours);
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
        if (is_readable(capital)) out.hint = write_this(capital);
        return out;
    }
    if (is_roman(text))
        return {quoted(text) + " names a degree; a chord begins with its root, A to G",
                "write the note, as in 'G7'"};
    return {"expected a root, A to G, but found " + quoted(typed.fault)};
}

// --- One message a slip
// ------------------------------------------------------------------------------------------------

Message number_expected(const Failure& failure, const Typed& typed) {
    if (failure.first == "add") return {"expected what is added, as in 'add9'"};
    if (failure.first == "no") return {"expected what is left out, as in 'no3'"};
    return {"expected 5, 9, 11 or 13 after " + quoted(typed.fault)};
}

Message no_such_degree(const Failure& failure, const Typed& typed) {
    const std::string root{typed.whole.substr(0, 1)};
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

Message bracket_closed(const Typed& typed) {
    return {"nothing is open that " + quoted(typed.fault) + " could close"};
}

Message bass_expected(const Typed& typed) {
    const std::string_view behind = trimmed(typed.fault.substr(1));
    const std::size_t at = static_cast<std::size_t>(behind.data() - typed.whole.data());
    if (!behind.empty()) {
        if (const auto message = foreign(typed, at)) return *message;
    }
    Message out{"expected a bass note, A to G, after '/'"};
    if (!behind.empty()) out.text += ", but found " + quoted(behind);
    std::string capital{typed.whole};
    if (!behind.empty() && behind.front() >= 'a' && behind.front() <= 'g') {
        capital[at] = static_cast<char>(capital[at] - 'a' + 'A');
        if (is_readable(capital)) out.hint = write_this(capital);
    }
    return out;
}

Message chord_under_slash(const Typed& typed) {
    const std::size_t at = typed.before.size();
    if (const auto message = foreign(typed, at - 1)) return *message;
    Message out{"a chord over a chord is not read; behind '/' stands one bass note"};
    if (is_readable(std::string{typed.before})) out.hint = write_this(typed.before);
    return out;
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
            return typed.before.ends_with('/')
                       ? bass_expected({typed.whole, {}, typed.whole.substr(typed.before.size() - 1)})
                       : no_root(typed);
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
            return {"the number " + std::to_string(failure.number) + " has no meaning here"};
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

// --- Nearest spelling
// --------------------------------------------------------------------------------------------------

std::string if_readable(std::string text) {
    return is_readable(text) ? text : std::string{};
}

std::string without(std::string_view text, std::size_t begin, std::size_t end) {
    return std::string{text.substr(0, begin)} + std::string{text.substr(end)};
}

// A word that is one slip of the finger away from what was typed near [begin, end): two letters changed
// round, one too many, missing or wrong.
std::string with_word_mended(std::string_view text, std::size_t begin, std::size_t end) {
    constexpr std::string_view kLetters = "majinsudlt";
    const std::size_t first = begin > 2 ? begin - 1 : 1;
    const std::size_t last = std::min(text.size(), end + 1);
    std::string changed{text};
    for (std::size_t i = first; i + 1 < last; ++i) {
        std::swap(changed[i], changed[i + 1]);
        if (is_readable(changed)) return changed;
        std::swap(changed[i], changed[i + 1]);
    }
    if (end == begin + 1 && is_readable(without(text, begin, end))) return without(text, begin, end);
    for (std::size_t i = first; i < last; ++i) {
        for (const char letter : kLetters) {
            changed = text;
            changed.insert(i, 1, letter);
            if (is_readable(changed)) return changed;
        }
    }
    for (std::size_t i = first; i < last; ++i) {
        for (const char letter : kLetters) {
            changed = text;
            changed[i] = letter;
            if (is_readable(changed)) return changed;
        }
    }
    return {};
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
        case Slip::SaidTwice:
        case Slip::NumberOutOfPlace:
        case Slip::CommaOutOfPlace:
        case Slip::BracketEmpty:
        case Slip::BracketInBracket:
            return if_readable(without(text, begin, end));
        case Slip::MajorWithoutNumber:
            return if_readable(std::string{text.substr(0, end)} + "7" + std::string{text.substr(end)});
        case Slip::BracketOpen:
            return if_readable(std::string{text} + (text[begin] == '[' ? ']' : ')'));
        case Slip::BracketClosed: {
            std::string changed = without(text, begin, end);
            if (is_readable(changed)) return changed;
            changed.insert(begin, 1, text[begin] == ']' ? ')' : ']');
            return if_readable(changed);
        }
        default:
            return {};
    }
}

}  // namespace

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
    const Span span{where.begin + begin, where.begin + std::max(end, begin)};
    diagnostics.error(source, span, std::move(message.text), std::move(message.hint));
}

}  // namespace shedbook
