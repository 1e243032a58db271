#include "shedbook/notation/instrument.h"

#include <algorithm>
#include <charconv>

#include "shedbook/base/text.h"
#include "shedbook/io/fields.h"
#include "shedbook/io/own_templates.h"
#include "shedbook/notation/fingering_chart.h"

namespace shedbook {
namespace {

std::optional<WrittenRange> parse_two_notes(std::string_view text) {
    // The separator is the first hyphen behind the low note's octave digit: "C-1-C4" has one before it.
    const std::size_t digit = text.find_first_of("0123456789");
    if (digit == std::string_view::npos) return std::nullopt;
    const std::size_t hyphen = text.find('-', digit);
    if (hyphen == std::string_view::npos) return std::nullopt;
    const std::optional<Pitch> low = parse_pitch(trimmed(text.substr(0, hyphen)));
    const std::optional<Pitch> high = parse_pitch(trimmed(text.substr(hyphen + 1)));
    if (!low || !high || high->midi() < low->midi()) return std::nullopt;
    return WrittenRange{WrittenPitch{*low}, WrittenPitch{*high}};
}

// Where nothing is said, an octave and a fifth from the bottom of the student range: on a clarinet the notes
// below the break (common practice, no source).
WrittenRange first_range(const Instrument& instrument) {
    if (instrument.first) return *instrument.first;
    constexpr Interval kOctaveAndFifth{11, 19};
    const Pitch top = instrument.student.low.on_paper() + kOctaveAndFifth;
    if (top.midi() >= instrument.student.high.on_paper().midi()) return instrument.student;
    return {instrument.student.low, WrittenPitch{top}};
}

bool has_frets(const Instrument& instrument) {
    const FingeringChart* chart = fingering_chart_of(instrument);
    return chart != nullptr && chart->by == FingeringChart::By::Fret;
}

std::optional<int> parse_fret(std::string_view text) {
    int out = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return out;
}

// From the lowest string at the lower fret to the highest string at the higher one.
std::optional<WrittenRange> fret_range(std::string_view text, const Instrument& instrument) {
    const std::optional<FretSpan> frets = parse_frets(text);
    if (!frets || !has_frets(instrument)) return std::nullopt;
    std::vector<int> open;
    for (const WrittenPitch string : instrument.strings) open.push_back(string.on_paper().midi());
    const auto at_fret = [](int string, int fret) {
        return WrittenPitch{Pitch{simplest_name((string + fret) % 12), (string + fret) / 12 - 1}};
    };
    return WrittenRange{at_fret(std::ranges::min(open), frets->low),
                        at_fret(std::ranges::max(open), frets->high)};
}

std::optional<Clef> parse_clef(std::string_view text) {
    const bool octave_below = text.ends_with("-8");
    if (octave_below) text.remove_suffix(2);
    if (text.size() != 2 || std::string_view{"GFC"}.find(text[0]) == std::string_view::npos)
        return std::nullopt;
    if (text[1] < '1' || text[1] > '5') return std::nullopt;
    return Clef{text[0], text[1] - '0', octave_below ? -1 : 0};
}

WrittenRange range_field(Fields& fields, const char* key) {
    const std::optional<WrittenRange> out = parse_two_notes(fields.text(key));
    if (!out && fields.find(key) != nullptr) {
        fields.fail(fields.find(key)->where,
                    std::string{"'"} + key + "' must be two notes, the lower first, as \"Bb3-F6\"");
    }
    return out.value_or(WrittenRange{});
}

Clef clef_field(Fields& fields, const std::string& key) {
    const std::optional<Clef> out = parse_clef(fields.text(key));
    if (!out && fields.find(key) != nullptr) {
        fields.fail(fields.find(key)->where,
                    "'" + key + "' must be a sign and a line, as \"G2\", \"F4\" or \"G2-8\"");
    }
    return out.value_or(Clef{});
}

Transposition transposition_field(Fields& fields) {
    const Data* member = fields.need("transpose");
    if (member == nullptr) return {};
    const Data::Array* parts = member->as_array();
    std::vector<int> values;
    for (const Data& part : parts != nullptr ? *parts : Data::Array{}) {
        const std::int64_t value = part.as_int().value_or(99);
        if (value >= -12 && value <= 12) values.push_back(static_cast<int>(value));
    }
    if (values.size() == 3) return {values[0], values[1], values[2]};
    fields.fail(member->where,
                "'transpose' must be three small numbers: letters, semitones, octaves, as [-5, -9, 0]");
    return {};
}

// The chart and what it needs: strings to count from, or an open note.
void read_fingering(Fields& fields, Instrument& out) {
    for (const std::string& name : fields.texts("strings")) {
        const std::optional<Pitch> open = parse_pitch(name);
        if (!open) fields.fail(fields.find("strings")->where, "'" + name + "' in 'strings' is no note");
        out.strings.emplace_back(open.value_or(Pitch{}));
    }
    const Data* member = fields.find("fingering");
    if (member == nullptr) return;
    out.fingering = fields.text("fingering");
    const FingeringChart* chart = find_fingering_chart(out.fingering);
    if (chart == nullptr) {
        std::vector<std::string> ids;
        for (const FingeringChart& known : fingering_charts()) ids.push_back(known.id);
        return fields.fail_unknown(member->where, "chart of fingerings", out.fingering, ids,
                                   "there are: " + join(ids, ", "));
    }
    if (chart->by != FingeringChart::By::Note) {
        if (out.strings.empty())
            fields.fail(member->where,
                        "fingerings '" + chart->id + "' count from 'strings', and there are none");
        return;
    }
    const std::optional<Pitch> open = parse_pitch(fields.text("open"));
    if (!open && fields.find("open") != nullptr)
        fields.fail(fields.find("open")->where, "'open' must be a note, as \"C4\"");
    out.open = WrittenPitch{open.value_or(Pitch{})};
}

std::optional<Instrument> read_entry(Fields fields) {
    Instrument out;
    out.id = fields.text("id");
    out.name = fields.text("name");
    out.short_name = fields.text("short");
    out.sound = fields.text("sound");
    out.source = fields.text("source");
    out.also = fields.texts("also");
    out.clef = clef_field(fields, "clef");
    if (fields.find("high-clef") != nullptr) out.high_clef = clef_field(fields, "high-clef");
    if (fields.find("left-hand") != nullptr) out.left_hand = clef_field(fields, "left-hand");
    out.hands_apart = fields.word("hands-apart", HandsApart::Octave);
    out.transposition = transposition_field(fields);
    out.program = fields.number("program", 1, 128);
    out.student = range_field(fields, "student");
    out.practical = range_field(fields, "practical");
    read_fingering(fields, out);
    out.full = fields.find("full") != nullptr ? range_field(fields, "full") : out.practical;
    if (fields.find("ledger-lines") != nullptr) out.ledger_lines = fields.number("ledger-lines", 1, 12);
    if (fields.find("first") != nullptr) out.first = range_field(fields, "first");
    if (fields.find("comfortable") != nullptr) out.comfortable = range_field(fields, "comfortable");
    if (!fields.finish()) return std::nullopt;
    return out;
}

}  // namespace

int middle_line(const Clef& clef) {
    // Where the sign's own note lies: G on G4, F on F3, C on C4; each line is two letters.
    constexpr int kLettersToOctave = 7;
    int place = 0;
    if (clef.sign == 'G') place = 4 + 4 * kLettersToOctave;
    if (clef.sign == 'F') place = 3 + 3 * kLettersToOctave;
    if (clef.sign == 'C') place = 4 * kLettersToOctave;
    return place + 2 * (3 - clef.line) + kLettersToOctave * clef.octaves;
}

std::vector<Instrument> read_instruments(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("instrument", source, diagnostics, read_entry);
}

const std::vector<Instrument>& instruments() {
    static const std::vector<Instrument> kInstruments =
        read_templates("instruments.toml", "instrument", read_instruments, &Instrument::id);
    return kInstruments;
}

const Instrument* find_instrument(std::string_view name) {
    const std::string key = slug(name);
    for (const Instrument& instrument : instruments()) {
        if (instrument.id == key || slug(instrument.name) == key) return &instrument;
        for (const std::string& other : instrument.also) {
            if (slug(other) == key) return &instrument;
        }
    }
    return nullptr;
}

std::vector<std::string> instrument_names() {
    std::vector<std::string> out;
    for (const Instrument& instrument : instruments()) {
        out.push_back(instrument.id);
        for (const std::string& other : instrument.also) out.push_back(slug(other));
    }
    return out;
}

PitchRange sounding_range(const Instrument& instrument, const WrittenRange& range) {
    const Interval by = to_sounding(instrument.transposition);
    return {range.low.on_paper() + by, range.high.on_paper() + by};
}

std::optional<WrittenRange> parse_range(std::string_view text, const Instrument& instrument) {
    const std::string word = lower_case(trimmed(text));
    if (word.starts_with("frets")) return fret_range(word, instrument);
    if (word == "first") return first_range(instrument);
    if (word == "student") return instrument.student;
    if (word == "practical") return instrument.practical;
    if (word == "full") return instrument.full;
    return parse_two_notes(trimmed(text));
}

std::optional<FretSpan> parse_frets(std::string_view text) {
    const std::string word = lower_case(trimmed(text));
    if (!word.starts_with("frets")) return std::nullopt;
    const std::string_view span = std::string_view{word}.substr(5);
    const std::size_t hyphen = span.find('-');
    if (hyphen == std::string_view::npos) return std::nullopt;
    const std::optional<int> low = parse_fret(trimmed(span.substr(0, hyphen)));
    const std::optional<int> high = parse_fret(trimmed(span.substr(hyphen + 1)));
    if (!low || !high || *low < 0 || *high < *low || *high > kMostFrets) return std::nullopt;
    return FretSpan{*low, *high};
}

}  // namespace shedbook
