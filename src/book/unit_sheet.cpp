#include "shedbook/book/unit_sheet.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include "phrase_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/fields.h"
#include "shedbook/io/own_templates.h"
#include "shedbook/notation/document_words.h"
#include "unit_lines.h"

namespace shedbook {
namespace {

constexpr std::array<LineOfUnit, 2> kLinesInAllKeys{{kPlainGuideTones, {"unbroken-scale"}}};
constexpr LineOfUnit kWithoutPhrase{"composed"};

// The bars of a unit as a tune by itself; what is wrong with them is said at their place.
std::optional<Chart> chart_field(Fields& fields, const std::string& id, const Key& key) {
    const std::string bars = fields.text("bars");
    if (fields.has_failed()) return std::nullopt;
    const SourceText text{"bars",
                          "Title: " + id + "\nKey: " + to_string(key) + "\nMeter: 4/4\n" + bars + "\n"};
    Diagnostics said;
    std::optional<Chart> out = read_tune(text, said);
    if (out && !said.has_errors()) return out;
    const auto fault = std::ranges::find(said.all(), Severity::Error, &Diagnostic::severity);
    fields.fail(fields.find("bars")->where,
                "'bars' must be chords as in a chart, \"| Dm7 | G7 | Cmaj7 | % |\"" +
                    (fault == said.all().end() ? "" : ": " + fault->message));
    return std::nullopt;
}

Key key_field(Fields& fields) {
    const std::optional<Key> key = parse_key(fields.text("key", "C"));
    if (!key) fields.fail(fields.find("key")->where, "'key' must be a key, as in \"C minor\"");
    return key.value_or(Key{});
}

std::optional<PlainUnit> read_plain_unit(Fields fields) {
    PlainUnit out;
    out.id = fields.text("id");
    out.kind = fields.word("unit", UnitKind::LoneChord);
    const Key key = key_field(fields);
    std::optional<Chart> chart = chart_field(fields, out.id, key);
    if (!fields.finish() || !chart) return std::nullopt;
    out.chart = *std::move(chart);
    out.chart.key = key;
    return out;
}

}  // namespace

std::vector<PlainUnit> read_plain_units(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("unit", source, diagnostics, read_plain_unit);
}

namespace {

// The tonic so many semitones higher whose signature is the shortest.
Key key_above(Key key, int semitones, Prefer prefer) {
    std::optional<Key> best;
    const int wanted = (key.tonic.semitone() + semitones) % 12;
    for (int fifths = -8; fifths <= 8; ++fifths) {
        const Key here{PitchClass::from_fifths(key.tonic.fifths() + fifths), key.mode};
        if (here.tonic.semitone() != wanted) continue;
        const int size = std::abs(signature(here));
        const bool is_asked_for = prefer == Prefer::Sharps ? signature(here) > 0 : signature(here) < 0;
        if (!best || size < std::abs(signature(*best)) ||
            (size == std::abs(signature(*best)) && is_asked_for))
            best = here;
    }
    return best.value_or(key);
}

// The lines on one key after the other: the phrase of the first comes in all.
class LinesInAllKeys {
  public:
    LinesInAllKeys(const PlainUnit& unit, const Ensemble& ensemble, const BookOptions& options,
                   Diagnostics& diagnostics)
        : unit_{unit},
          lines_{ensemble, options, diagnostics},
          phrases_{ensemble.parts, ensemble.written, options.etude, options.prefer, boxes_on_units(options)} {
    }

    std::vector<Etude> on(const Tune& tune) {
        std::vector<Etude> out;
        const auto add = [&](std::optional<Etude> line) {
            if (line) out.push_back(*std::move(line));
        };
        const Passage all{{1, static_cast<int>(written_bars(tune.chart).size())}};
        for (const LineOfUnit& each : kLinesInAllKeys) add(lines_.make(tune, each, all));
        std::optional<Etude> own = phrase(tune);
        add(own ? std::move(own) : lines_.make(tune, kWithoutPhrase, all));
        return out;
    }

  private:
    std::optional<Etude> phrase(const Tune& tune) {
        const std::vector<PracticeUnit> found = units_of(tune.chart, tune.analysis).units;
        const auto own = std::ranges::find(found, unit_.kind, &PracticeUnit::kind);
        if (own == found.end()) return std::nullopt;
        const UnitPlace& place = own->places.front();
        if (!phrase_.empty())
            return phrases_.again(tune, unit_.kind, place, {{place.first_bar, place.last_bar}}, phrase_);
        std::vector<Etude> made =
            phrases_.make(tune, unit_.kind, place, {{place.first_bar, place.last_bar}}, 1);
        if (made.empty()) return std::nullopt;
        phrase_ = made.front().id;
        return std::move(made.front());
    }

    const PlainUnit& unit_;
    UnitLines lines_;
    PhrasePages phrases_;
    std::string phrase_;  // its id, once it is chosen
};

}  // namespace

const std::vector<PlainUnit>& plain_units() {
    static const std::vector<PlainUnit> kUnits =
        read_templates("units.toml", "unit", read_plain_units, &PlainUnit::id);
    return kUnits;
}

const PlainUnit* find_plain_unit(std::string_view name) {
    const std::string key = lower_case(std::string{name});
    const auto at = std::ranges::find_if(plain_units(),
                                         [&](const PlainUnit& unit) { return lower_case(unit.id) == key; });
    return at == plain_units().end() ? nullptr : &*at;
}

std::vector<std::string> plain_unit_names() {
    std::vector<std::string> out;
    for (const PlainUnit& unit : plain_units()) out.push_back(unit.id);
    return out;
}

Chart chart_of(const PlainUnit& unit, int semitones, Prefer prefer) {
    const Key own = unit.chart.key.value_or(Key{});
    return transposed(unit.chart, key_above(own, semitones, prefer).tonic - own.tonic);
}

void assemble_unit_sheet(const PlainUnit& unit, const std::vector<Tune>& keys,
                         std::span<const BookPart> parts, std::size_t which, const BookOptions& options,
                         BlockSink& sink, Diagnostics& diagnostics) {
    const Instrument& instrument = *parts[which].instrument;
    sink.begin({unit.id + (keys.size() > 1 ? " in " + std::to_string(keys.size()) + " keys" : ""),
                "",
                {instrument},
                ""});
    sink.take(Caution{std::string{kCaution}});
    const Ensemble ensemble{parts, {which}};
    LinesInAllKeys maker{unit, ensemble, options, diagnostics};
    int number = 0;
    for (const Tune& tune : keys) {
        std::vector<Etude> lines = maker.on(tune);
        if (lines.empty()) continue;
        const Key key = key_of(tune);
        const Interval by = written_interval(instrument, key, {}, options.prefer);
        UnitHead::Place place{Key{key.tonic + by, key.mode}, 0, 0};
        place.tonic = key.tonic;
        sink.take(SectionStart{
            ++number,
            UnitHead{
                unit_name(unit.kind, key.mode), {place}, Grade::Easy, "", std::string{to_word(unit.kind)}}});
        for (std::size_t i = 0; i < lines.size(); ++i) {
            lines[i].number = {number, static_cast<int>(i) + 1};
            sink.take(std::move(lines[i]));
        }
        sink.take(SectionEnd{});
    }
    sink.finish();
}

}  // namespace shedbook
