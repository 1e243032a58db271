#include "arguments.h"

#include <algorithm>
#include <array>

#include "shedbook/base/text.h"
#include "shedbook/notation/fingering_chart.h"
#include "tunes.h"

namespace shedbook {
namespace {

// A row that no instrument has is a mistake; one that some have is given to those.
void add_fingerings_to(std::vector<BookPart>& parts, const std::string& word) {
    if (word.empty()) return;
    const auto wanted = choice_of<Fingerings>("--fingerings", word);
    std::vector<std::string> without;
    for (BookPart& part : parts) {
        part.fingerings = wanted;
        if (fingering_chart_of(*part.instrument) == nullptr) without.push_back(part.instrument->name);
    }
    if (wanted == Fingerings::None || without.empty()) return;
    if (without.size() == parts.size())
        throw UsageError("there are no fingerings for " + join(without, ", ") +
                         "; brass, strings and frets have them");
    Diagnostics diagnostics;
    diagnostics.note_at("--fingerings", "there are none for " + join(without, ", "));
    print(diagnostics);
}

bool is_tune_name(const std::string& word) {
    return word == "-" || word.find('.') != std::string::npos;
}

}  // namespace

void add_part_options(CLI::App& app, PartArguments& arguments) {
    app.add_option("--for", arguments.instruments,
                   "instruments that play it, e.g. --for alto-sax or --for alto-sax,trumpet (one file each)")
        ->delimiter(',')
        ->required();
    app.add_option(
        "--range", arguments.range,
        "first, student, practical, full, \"frets 5-9\", or two written notes: Bb3-F6 (default: practical)");
    app.add_option("--fingerings", arguments.fingerings,
                   "a row under the notes with valves, slide positions, fingers of the first position or "
                   "frets, where the instrument has one: none, scales or all (default: none)");
    app.add_option("-o,--output", arguments.output,
                   "file to write: .mxl, .musicxml, .pdf, .svg, .png, .ly, .mid, .wav or .flac")
        ->required();
    app.add_option("--paper", arguments.paper,
                   "A4, letter or tablet (4:3 across, larger staves), for pages (default: A4)");
    app.add_option("--page", arguments.page, "which page, for a picture (.svg, .png; default: the first)")
        ->check(CLI::PositiveNumber);
    app.add_option("--prefer", arguments.prefer, "sharps or flats, where a key can be written both ways");
    app.add_option("--drills", arguments.drills,
                   "which drills, e.g. --drills thirds,sevenths ('usual' for those of a book, 'all' for all)")
        ->delimiter(',');
    app.add_option("--only", arguments.only,
                   "only the pieces with these numbers, e.g. --only 2.3 or --only 1.1,2.1")
        ->delimiter(',');
    add_sound_options(app, arguments.sound);
}

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

std::vector<BookPart> parts_of(const PartArguments& arguments, std::vector<std::string>* tunes) {
    std::vector<BookPart> out;
    for (const std::string& name : arguments.instruments) {
        if (tunes != nullptr && find_instrument(name) == nullptr && is_tune_name(name)) {
            tunes->push_back(name);
            continue;
        }
        const Instrument& instrument = instrument_called(name);
        const std::optional<WrittenRange> range =
            parse_range(arguments.range.empty() ? "practical" : arguments.range, instrument);
        if (!range) {
            throw UsageError("'" + arguments.range +
                             "' is no range; say first, student, practical, full, or two written notes, the "
                             "lower first: Bb3-F6");
        }
        const bool twice =
            std::ranges::any_of(out, [&](const BookPart& p) { return p.instrument == &instrument; });
        if (!twice) out.push_back({&instrument, *range, parse_frets(arguments.range)});
    }
    add_fingerings_to(out, arguments.fingerings);
    if (out.empty())
        throw UsageError("--for needs an instrument; 'shedbook list instruments' shows what there is");
    return out;
}

WriteOptions write_options_of(const PartArguments& arguments) {
    const std::string& output = arguments.output;
    if (!output.empty()) {
        refuse_sound_options(arguments.sound, output);
        const auto is_any = [&](std::initializer_list<std::string_view> endings) {
            return std::ranges::any_of(
                endings, [&](std::string_view ending) { return lower_case(output).ends_with(ending); });
        };
        if (arguments.page > 0 && !is_any({".svg", ".png"}))
            throw UsageError("--page is for a picture (.svg, .png), not for '" + output + "'");
        if (!arguments.paper.empty() && !is_any({".pdf", ".ly", ".svg", ".png"}))
            throw UsageError("--paper is for pages (.pdf, .ly, .svg, .png), not for '" + output + "'");
    }
    const Paper paper = arguments.paper.empty() ? Paper::A4 : choice_of<Paper>("--paper", arguments.paper);
    return {paper, sound_options_of(arguments.sound), std::max(1, arguments.page)};
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

std::vector<const DrillTemplate*> drills_of(const std::vector<std::string>& names) {
    if (names.empty()) return usual_drills();
    std::vector<const DrillTemplate*> out;
    for (const std::string& name : names) {
        if (name == "usual") {
            for (const DrillTemplate* drill : usual_drills()) out.push_back(drill);
            continue;
        }
        if (name == "all") {
            for (const DrillTemplate& drill : drill_templates()) out.push_back(&drill);
            continue;
        }
        const DrillTemplate* drill = find_drill(name);
        if (drill == nullptr)
            unknown_name("drill", name, drill_names(), "'shedbook list drills' shows what there is");
        out.push_back(drill);
    }
    return out;
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

std::string name_with(const std::string& output, const std::string& word) {
    const std::size_t dot = output.rfind('.');
    const std::size_t slash = output.rfind('/');
    if (dot == std::string::npos || (slash != std::string::npos && dot < slash)) return output + "-" + word;
    return output.substr(0, dot) + "-" + word + output.substr(dot);
}

}  // namespace shedbook
