#include "shedbook/book/unit_sheet.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "phrase_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

// A kind of line, and the level above which it is not asked for here.
constexpr std::array<std::pair<std::string_view, int>, 2> kLines{
    {{"guide-tones", 1}, {"unbroken-scale", kHighestLevel}}};
constexpr std::string_view kComposedKind = "composed";

std::optional<PlainUnit> read_plain_unit(Fields fields) {
    PlainUnit out;
    out.id = fields.text("id");
    out.kind = fields.word("unit", UnitKind::LoneChord);
    out.key = parse_key(fields.text("key", "C")).value_or(Key{});
    out.bars = fields.text("bars");
    if (!fields.finish()) return std::nullopt;
    return out;
}

std::vector<PlainUnit> read_plain_units(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("unit", source, diagnostics, read_plain_unit);
}

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
class UnitLines {
  public:
    UnitLines(const PlainUnit& unit, std::span<const BookPart> parts, std::size_t which,
              const BookOptions& options)
        : unit_{unit},
          parts_{parts},
          which_{which},
          options_{options},
          phrases_{parts, {which}, options.etude, options.prefer, boxes()} {}

    std::vector<Etude> lines_on(const Tune& tune) {
        std::vector<Etude> out;
        for (const auto& [kind, most_level] : kLines) add(out, line(tune, kind, most_level));
        std::optional<Etude> own = phrase(tune);
        add(out, own ? std::move(own) : line(tune, kComposedKind, kHighestLevel));
        return out;
    }

  private:
    [[nodiscard]] EtudeBoxes boxes() const { return {options_.tempos, options_.goal_tempo, true}; }

    static void add(std::vector<Etude>& out, std::optional<Etude> line) {
        if (line) out.push_back(*std::move(line));
    }

    [[nodiscard]] std::optional<Etude> line(const Tune& tune, std::string_view kind, int most_level) const {
        EtudeRequest request = options_.etude;
        request.kind = kind;
        request.level = std::min(request.level, most_level);
        request.bars = {1, static_cast<int>(written_bars(tune.chart).size())};
        request.once = true;
        return EtudeMaker{parts_, request, options_.prefer}.make(tune, {which_}, boxes());
    }

    std::optional<Etude> phrase(const Tune& tune) {
        const std::vector<PracticeUnit> found = units_of(tune.chart, tune.analysis).units;
        const auto own = std::ranges::find(found, unit_.kind, &PracticeUnit::kind);
        if (own == found.end()) return std::nullopt;
        const UnitPlace& place = own->places.front();
        if (!phrase_.empty()) return phrases_.again(tune, place, phrase_);
        std::vector<Etude> made = phrases_.make(tune, unit_.kind, place, 1);
        if (made.empty()) return std::nullopt;
        phrase_ = made.front().id;
        return std::move(made.front());
    }

    const PlainUnit& unit_;
    std::span<const BookPart> parts_;
    std::size_t which_;
    const BookOptions& options_;
    PhrasePages phrases_;
    std::string phrase_;  // its id, once it is chosen
};

}  // namespace

const std::vector<PlainUnit>& plain_units() {
    static const std::vector<PlainUnit> kUnits = read_shipped("units.toml", read_plain_units);
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
    const SourceText text{"units.toml", "Title: " + unit.id + "\nKey: " + to_string(unit.key) +
                                            "\nMeter: 4/4\n" + unit.bars + "\n"};
    Diagnostics diagnostics;
    const std::optional<Chart> chart = read_tune(text, diagnostics);
    assert(chart && !diagnostics.has_errors());
    const Key key = key_above(unit.key, semitones, prefer);
    return transposed(*chart, key.tonic - unit.key.tonic);
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
    UnitLines maker{unit, parts, which, options};
    int number = 0;
    for (const Tune& tune : keys) {
        std::vector<Etude> lines = maker.lines_on(tune);
        if (lines.empty()) continue;
        const Key key = key_of(tune);
        const Interval by = written_interval(instrument, key, {}, options.prefer);
        const UnitHead::Place place{Key{key.tonic + by, key.mode}, 0, 0};
        sink.take(
            SectionStart{++number, UnitHead{std::string{to_word(unit.kind)}, {place}, Grade::Easy, ""}});
        for (std::size_t i = 0; i < lines.size(); ++i) {
            lines[i].number = {number, static_cast<int>(i) + 1};
            sink.take(std::move(lines[i]));
        }
        sink.take(SectionEnd{});
    }
    if (number == 0) diagnostics.note_at(unit.id, "no line on it fits the range of the " + instrument.name);
    sink.finish();
}

}  // namespace shedbook
