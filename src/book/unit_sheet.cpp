#include "shedbook/book/unit_sheet.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

// A kind of line, and the level above which it is not asked for here.
constexpr std::array<std::pair<std::string_view, int>, 3> kLines{
    {{"guide-tones", 1}, {"unbroken-scale", kHighestLevel}, {"composed", kHighestLevel}}};

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
    int number = 0;
    for (const Tune& tune : keys) {
        const Key key = key_of(tune);
        const Interval by = written_interval(instrument, key, {}, options.prefer);
        UnitHead head{
            std::string{to_word(unit.kind)}, {{Key{key.tonic + by, key.mode}, 0, 0}}, Grade::Easy, ""};
        std::vector<Etude> lines;
        for (const auto& [kind, most_level] : kLines) {
            EtudeRequest request = options.etude;
            request.kind = kind;
            request.level = std::min(request.level, most_level);
            request.bars = {1, static_cast<int>(written_bars(tune.chart).size())};
            request.once = true;
            EtudeMaker maker{parts, request, options.prefer};
            std::optional<Etude> line = maker.make(tune, {which}, {options.tempos, options.goal_tempo, true});
            if (!line) continue;
            line->number = {number + 1, static_cast<int>(lines.size()) + 1};
            lines.push_back(*std::move(line));
        }
        if (lines.empty()) continue;
        sink.take(SectionStart{++number, std::move(head)});
        for (Etude& line : lines) sink.take(std::move(line));
        sink.take(SectionEnd{});
    }
    if (number == 0) diagnostics.note_at(unit.id, "no line on it fits the range of the " + instrument.name);
    sink.finish();
}

}  // namespace shedbook
