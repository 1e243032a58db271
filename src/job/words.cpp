#include "shedbook/job/words.h"

#include <algorithm>
#include <array>

#include "shedbook/base/text.h"

namespace shedbook {

void unknown_name(const std::string& what, const std::string& name, const std::vector<std::string>& known,
                  const std::string& what_there_is) {
    const std::string near = nearest(slug(name), known);
    throw UsageError("no " + what + " is called '" + name + "'" +
                     (near.empty() ? "; " + what_there_is : "; did you mean '" + near + "'?"));
}

void unknown_word(const std::string& option, const std::string& word, const std::vector<std::string>& words) {
    const std::string near = nearest(word, words);
    throw UsageError(option + " takes " + join(words, ", ") + ", not '" + word + "'" +
                     (near.empty() ? "" : "; did you mean '" + near + "'?"));
}

const EtudeKind& etude_kind_called(const std::string& name) {
    if (const EtudeKind* kind = find_etude_kind(name)) return *kind;
    unknown_name("kind of etude", name, etude_kind_names(), "there are: " + join(etude_kind_names(), ", "));
}

const Instrument& instrument_called(const std::string& name) {
    const Instrument* instrument = find_instrument(name);
    if (instrument == nullptr)
        unknown_name("instrument", name, instrument_names(),
                     "'shedbook list instruments' shows what there is");
    return *instrument;
}

const DrillTemplate& drill_called(const std::string& name) {
    const DrillTemplate* drill = find_drill(name);
    if (drill == nullptr)
        unknown_name("drill", name, drill_names(), "'shedbook list drills' shows what there is");
    return *drill;
}

Palette palette_of(const std::string& word) {
    return word.empty() ? Palette::Usual : choice_of<Palette>("--scales", word);
}

Paper paper_of(const std::string& word) {
    return word.empty() ? Paper::A4 : choice_of<Paper>("--paper", word);
}

SymbolStyle symbol_style_of(const std::string& words) {
    SymbolStyle out;
    for (const std::string_view part : split(words, ',')) {
        const std::string_view word = trimmed(part);
        if (word.empty() || word == "letters") continue;
        if (word == "signs") {
            out.accidentals = SymbolStyle::Accidentals::Signs;
        } else if (word == "triangle") {
            out.major = SymbolStyle::Major::Triangle;
        } else if (word == "M") {
            out.major = SymbolStyle::Major::M;
        } else if (word == "dash") {
            out.minor = SymbolStyle::Minor::Dash;
        } else {
            throw UsageError("--symbols takes letters, signs, triangle, M and dash, joined by commas, not '" +
                             std::string{word} + "'");
        }
    }
    return out;
}

Prefer prefer_of(const std::string& word) {
    if (word.empty()) return Prefer::Fewest;
    if (word == "sharps") return Prefer::Sharps;
    if (word == "flats") return Prefer::Flats;
    throw UsageError("--prefer takes 'sharps' or 'flats', not '" + word + "'");
}

std::pair<int, int> bars_of(const std::string& text) {
    const auto number = [&](std::string_view digits) {
        int out = 0;
        if (digits.empty() || digits.size() > 6)
            throw UsageError("--bars takes bar numbers as 5-8 or 12, not '" + text + "'");
        for (const char c : digits) {
            if (c < '0' || c > '9')
                throw UsageError("--bars takes bar numbers as 5-8 or 12, not '" + text + "'");
            out = 10 * out + (c - '0');
        }
        return out;
    };
    const std::size_t hyphen = text.find('-');
    const int first = number(trimmed(std::string_view{text}.substr(0, hyphen)));
    const int last =
        hyphen == std::string::npos ? first : number(trimmed(std::string_view{text}.substr(hyphen + 1)));
    if (first < 1 || last < first)
        throw UsageError("--bars wants the first bar before the last, from 1: '" + text + "'");
    return {first, last};
}

Interval transposition_of(const std::string& text, PitchClass home) {
    const std::string_view word = trimmed(text);
    for (const auto& [prefix, sign] :
         {std::pair{std::string_view{"up "}, 1}, {std::string_view{"down "}, -1}}) {
        if (!word.starts_with(prefix)) continue;
        const std::optional<Interval> interval = parse_interval(word.substr(prefix.size()));
        if (!interval) {
            throw UsageError(
                "'" + text +
                "' is no interval; say for instance \"up m3\", \"down M2\", \"up perfect fifth\"");
        }
        return sign * *interval;
    }
    // A key: the nearest way there, so that a melody stays near where it was.
    const std::optional<PitchClass> tonic = parse_pitch_class(word);
    if (!tonic) {
        throw UsageError("--transpose takes a key (Eb) or an interval (\"up m3\", \"down M2\"), not '" +
                         text + "'");
    }
    const Interval up = *tonic - home;
    return up.semitones() > 6 ? up - kOctave : up;
}

}  // namespace shedbook
