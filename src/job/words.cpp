#include "shedbook/job/words.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "shedbook/base/text.h"

namespace shedbook {

namespace {

// Few enough to be read at a glance.
constexpr std::size_t kMostOffered = 8;

// Whether a word of a name begins with it, or words do that follow each other: "sax" in "alto-sax",
// "enclosure" in "enclosures-above".
bool has_part(const std::string& name, const std::string& beginning) {
    return ("-" + slug(name)).find("-" + beginning) != std::string::npos;
}

std::string one_of_several(const std::vector<std::string>& several) {
    std::vector<std::string> shown = several;
    if (shown.size() > kMostOffered) shown.resize(kMostOffered);
    return join(shown, ", ") + (several.size() > kMostOffered
                                    ? " and " + std::to_string(several.size() - kMostOffered) + " more"
                                    : "");
}

// Those that share a word with what was typed; a letter or two say too little.
std::vector<std::string> of_that_kind(const std::string& typed, const std::vector<std::string>& known) {
    constexpr std::size_t kLeast = 3;
    std::vector<std::string> out;
    const std::string word = slug(typed);
    if (word.size() < kLeast) return out;
    std::ranges::copy_if(known, std::back_inserter(out),
                         [&](const std::string& name) { return has_part(name, word); });
    return out;
}

[[noreturn]] void unclear_name(const std::string& what, const std::string& name,
                               const std::vector<std::string>& meant) {
    const std::string none = "no " + what + " is called just '" + name + "'; ";
    throw UsageError(meant.size() == 1 ? none + "did you mean '" + meant.front() + "'?"
                                       : none + "say which: " + one_of_several(meant));
}

// Words of players for families of drills that have another name here.
constexpr std::pair<std::string_view, std::string_view> kFamilies[]{
    {"bebop", "added"}, {"chromatic", "approach"}, {"intervals", "leaps"}, {"modes", "scales"}};

// The drills of a family ("enclosures"), or that tell of it.
std::vector<std::string> drills_about(const std::string& typed) {
    std::vector<std::string> of_family;
    std::vector<std::string> telling;
    std::string word = slug(typed);
    for (const auto& [said, family] : kFamilies) {
        if (word.starts_with(said)) word = family;
    }
    for (const DrillTemplate& drill : drill_templates()) {
        if (has_part(drill.family, word)) of_family.push_back(drill.id);
        if (has_part(drill.title + " " + drill.about, word)) telling.push_back(drill.id);
    }
    return of_family.empty() ? telling : of_family;
}

}  // namespace

void unknown_name(const std::string& what, const std::string& name, const std::vector<std::string>& known,
                  const std::string& what_there_is) {
    const std::string near = nearest(slug(name), known);
    if (near.empty()) {
        if (const std::vector<std::string> meant = of_that_kind(name, known); !meant.empty())
            unclear_name(what, name, meant);
    }
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
    // As pages print it.
    for (const EtudeKind& kind : etude_kinds()) {
        if (slug(kind.title) == slug(name) || slug(kind.title_on_bars) == slug(name)) return kind;
    }
    unknown_name("kind of etude", name, etude_kind_names(), "there are: " + join(etude_kind_names(), ", "));
}

const Instrument& instrument_called(const std::string& name) {
    if (const Instrument* instrument = find_instrument(name)) return *instrument;
    // Of a family each is named once, by the name that 'list' shows.
    if (nearest(slug(name), instrument_names()).empty()) {
        std::vector<std::string> ids;
        for (const Instrument& instrument : instruments()) ids.push_back(instrument.id);
        if (const std::vector<std::string> meant = of_that_kind(name, ids); !meant.empty())
            unclear_name("instrument", name, meant);
    }
    unknown_name("instrument", name, instrument_names(), "'shedbook list instruments' shows what there is");
}

const DrillTemplate& drill_called(const std::string& name) {
    if (const DrillTemplate* drill = find_drill(name)) return *drill;
    // As pages print it.
    for (const DrillTemplate& drill : drill_templates()) {
        if (lower_case(drill.title) == lower_case(name)) return drill;
    }
    const std::vector<std::string> known = drill_names();
    const bool is_known_kind = !nearest(slug(name), known).empty() || !of_that_kind(name, known).empty();
    if (const std::vector<std::string> meant = drills_about(name); !is_known_kind && !meant.empty())
        unclear_name("drill", name, meant);
    unknown_name("drill", name, known, "'shedbook list drills' shows what there is");
}

namespace {

// What people ask for, and what comes nearest to it here.
constexpr std::pair<std::string_view, std::string_view> kEndingsElsewhere[]{
    {".midi", ".mid"}, {".mp3", ".wav or .flac"}, {".ogg", ".flac"},  {".m4a", ".flac"},
    {".jpg", ".png"},  {".jpeg", ".png"},         {".doc", ".pdf"},   {".docx", ".pdf"},
    {".htm", ".svg"},  {".html", ".svg"},         {".xhtml", ".svg"}, {".mscz", ".mxl"},
    {".sib", ".mxl"},  {".musx", ".mxl"},         {".mus", ".mxl"},   {".mscx", ".mxl"}};

}  // namespace

std::string fault_of_ending(const std::string& file, const std::vector<std::string>& endings) {
    const std::size_t dot = file.rfind('.');
    const std::size_t slash = file.rfind('/');
    const bool has_ending =
        dot != std::string::npos && dot + 1 < file.size() && (slash == std::string::npos || dot > slash + 1);
    const std::string ending = has_ending ? lower_case(file.substr(dot)) : "";
    std::string near = nearest(ending, endings);
    for (const auto& [elsewhere, here] : kEndingsElsewhere) {
        const bool can_be_written =
            std::ranges::find(endings, here.substr(0, here.find(' '))) != endings.end();
        if (ending == elsewhere && can_be_written) near = here;
    }
    return (has_ending ? "'" + ending + "' of '" + file + "' is no ending that can be written"
                       : "'" + file + "' has no ending, which says what to write") +
           (near.empty() ? "; " : "; did you mean " + near + "? ") + "there are: " + join(endings, ", ");
}

const Writer& writer_for(const std::string& file_name) {
    if (const Writer* writer = find_writer(file_name)) return *writer;
    std::vector<std::string> endings;
    for (const Writer& writer : writers()) endings.emplace_back(writer.ending);
    throw UsageError(fault_of_ending(file_name, endings));
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
