#include <algorithm>
#include <cmath>
#include <cstdint>
#include <ostream>

#include "shedbook/base/text.h"
#include "shedbook/harmony/units.h"
#include "shedbook/io/data.h"
#include "shedbook/report/report.h"

namespace shedbook {
namespace {

using Object = Data::Object;
using Array = Data::Array;

Data text(std::string value) {
    return {std::move(value)};
}
Data number(int value) {
    return {static_cast<std::int64_t>(value)};
}

// Two decimals: more would claim too much.
double rounded(double share) {
    return std::round(100 * share) / 100;
}

Data note_names(const std::vector<PitchClass>& notes) {
    Array out;
    for (const PitchClass note : notes) out.push_back(text(to_string(note)));
    return {std::move(out)};
}

Data pitch_classes(const Scale& scale) {
    Array out;
    for (const int note : sounding_notes(scale)) out.push_back(number(note));
    return {std::move(out)};
}

Data key_data(Key key) {
    return {Object{{"tonic", text(to_string(key.tonic))}, {"mode", text(to_string(key.mode))}}};
}

// Units of the meter from 1: a whole number where it is one.
Data beat_data(Position in_bar, const Meter& meter) {
    const Rational beat = (in_bar - Position{}) / meter.unit_length() + Rational{1};
    if (beat.is_whole()) return {beat.num()};
    return {static_cast<double>(beat.num()) / static_cast<double>(beat.den())};
}

Data alternatives_data(const std::vector<ScaleChoice>& choices) {
    Array out;
    for (const ScaleChoice& choice : choices) {
        out.push_back({Object{{"scale_id", text(std::string{choice.scale.type->id})},
                              {"scale_name", text(to_string(choice.scale))},
                              {"notes", note_names(choice.notes)},
                              {"why", text(in_words(choice.reason))}}});
    }
    return {std::move(out)};
}

// The members that depend on the surroundings.
Object meaning(const Reading& reading) {
    const ScaleChoice& choice = reading.scale;
    return {{"scale", pitch_classes(choice.scale)},
            {"scale_id", text(std::string{choice.scale.type->id})},
            {"scale_name", text(to_string(choice.scale))},
            {"notes", note_names(choice.notes)},
            {"key", key_data(reading.key)},
            {"numeral", text(reading.numeral)},
            {"function", text(to_string(reading.function))},
            {"target", reading.target ? number(*reading.target) : Data{}},
            {"guide_tones", note_names(reading.guide_tones)},
            {"avoid", note_names(choice.avoid)},
            {"alternatives", alternatives_data(reading.alternatives)},
            {"why", text(in_words(choice.reason))}};
}

Data also_data(const Reading& first, const std::vector<Reading>& others) {
    const Object base = meaning(first);
    Array out;
    for (const Reading& other : others) {
        Object differs;
        Object full = meaning(other);
        for (std::size_t i = 0; i < full.size(); ++i) {
            if (write_json(full[i].second) != write_json(base[i].second))
                differs.push_back(std::move(full[i]));
        }
        out.push_back({std::move(differs)});
    }
    return {std::move(out)};
}

Object scale_object(const ScaleChoice& choice) {
    const ScaleType& type = *choice.scale.type;
    Array degrees;
    for (const std::string_view degree : degree_names(type)) {
        degrees.push_back(text(std::string{degree}));
    }
    return {{"scale_id", text(std::string{type.id})},
            {"scale_name", text(to_string(choice.scale))},
            {"root", text(to_string(choice.scale.tonic))},
            {"notes", note_names(choice.notes)},
            {"degrees", {std::move(degrees)}},
            {"why", text(in_words(choice.reason))},
            {"avoid", note_names(choice.avoid)}};
}

Data unit_data(const PracticeUnit& unit) {
    Array places;
    Array all;
    for (const UnitPlace& place : unit.places) {
        Array chords;
        for (const int inst : place.chords) {
            chords.push_back(number(inst));
            all.push_back(number(inst));
        }
        places.push_back({Object{{"key", key_data(place.key)},
                                 {"bars", {Array{number(place.first_bar), number(place.last_bar)}}},
                                 {"chords", {std::move(chords)}}}});
    }
    const UnitPlace& first = unit.places.front();
    return {Object{{"kind", text(std::string{to_word(unit.kind)})},
                   {"places", {std::move(places)}},
                   {"chords", {std::move(all)}},
                   {"bars", {Array{number(first.first_bar), number(first.last_bar)}}},
                   {"key", key_data(first.key)},
                   {"difficulty", number(first.difficulty)},
                   {"why", text(first.why)}}};
}

Data units_data(const std::vector<PracticeUnit>& units) {
    Array out;
    for (const PracticeUnit& unit : units) out.push_back(unit_data(unit));
    return {std::move(out)};
}

Data bars_data(const std::vector<BarDifficulty>& bars) {
    Array out;
    for (const BarDifficulty& bar : bars) {
        out.push_back({Object{
            {"bar", number(bar.bar)}, {"difficulty", number(bar.difficulty)}, {"why", text(bar.why)}}});
    }
    return {std::move(out)};
}

// Column of a message that was resolved to "name:line:column".
int column_of(const Diagnostic& diagnostic) {
    const std::size_t colon = diagnostic.where.rfind(':');
    if (colon == std::string::npos) return 1;
    int column = 0;
    for (const char c : diagnostic.where.substr(colon + 1)) {
        if (c < '0' || c > '9') return 1;
        column = 10 * column + (c - '0');
    }
    return std::max(column, 1);
}

std::vector<Object> chords_data(const Chart& chart, const Analysis& analysis) {
    std::vector<Object> out;
    int inst = 0;
    std::size_t at = 0;  // in the readings, which stand in written order
    for (const WrittenBar& bar : written_bars(chart)) {
        for (const PlacedChord& placed : bar.bar->chords) {
            Object line{{"chart", text(chart.id)},
                        {"inst", number(inst)},
                        {"bar", number(bar.index + 1)},
                        {"beat", beat_data(placed.at, bar.meter)},
                        {"symbol", text(placed.symbol ? to_string(*placed.symbol) : "N.C.")},
                        {"root", placed.symbol ? text(to_string(placed.symbol->root)) : Data{}}};
            while (at < analysis.readings.size() && analysis.readings[at].inst < inst) ++at;
            if (at < analysis.readings.size() && analysis.readings[at].inst == inst) {
                const Reading& reading = analysis.readings[at];
                for (auto& member : meaning(reading)) line.push_back(std::move(member));
                if (!analysis.also[at].empty())
                    line.emplace_back("also", also_data(reading, analysis.also[at]));
            }
            out.push_back(std::move(line));
            ++inst;
        }
    }
    return out;
}

}  // namespace

ChangesAsRead changes_as_read(const Chart& chart, const Analysis& analysis, Interval by) {
    const Analysis read = transposed(analysis, by);
    return {chords_data(transposed(chart, by), read), key_data(read.home)};
}

ChangesData changes_data(const Chart& chart, const Analysis& analysis) {
    ChangesData out;
    out.chords = chords_data(chart, analysis);
    const TuneUnits units = units_of(chart, analysis);
    const HomeDoubt& doubt = analysis.doubt;
    out.tune = Object{{"chart", text(chart.id)},
                      {"home", key_data(analysis.home)},
                      {"home_probability", {rounded(doubt.probability)}},
                      {"home_why", text(in_words(doubt.for_home))},
                      {"runner_up", doubt.runner_up ? key_data(*doubt.runner_up) : Data{}},
                      {"runner_up_why", text(in_words(doubt.for_runner_up))},
                      {"overruled", analysis.overruled ? key_data(*analysis.overruled) : Data{}},
                      {"form", text(analysis.form)},
                      {"units", units_data(units.units)},
                      {"hard_bars", bars_data(units.bars)}};
    return out;
}

void write_changes_json(const Chart& chart, const Analysis& analysis, std::ostream& out) {
    ChangesData changes = changes_data(chart, analysis);
    for (Object& chord : changes.chords) out << write_json({std::move(chord)}) << '\n';
    out << write_json({std::move(changes.tune)}) << '\n';
}

ChordLine chord_json(const std::string& input) {
    ChordLine out;
    Object line{{"input", text(input)}};
    const auto finish = [&] {
        out.json = write_json({std::move(line)});
        return out;
    };
    if (is_no_chord(trimmed(input))) {
        out.ok = true;
        line.insert(line.end(), {{"ok", {true}},
                                 {"root", {}},
                                 {"bass", {}},
                                 {"pcs", {Array{}}},
                                 {"notes", {Array{}}},
                                 {"printed", text("N.C.")},
                                 {"scales", {Array{}}}});
        return finish();
    }
    Diagnostics diagnostics;
    const auto symbol = read_chord_symbol(SourceText{"input", input}, diagnostics);
    if (!symbol) {
        const Diagnostic fault = diagnostics.all().empty() ? Diagnostic{} : diagnostics.all().front();
        line.insert(line.end(), {{"ok", {false}},
                                 {"error", text(fault.message)},
                                 {"column", number(column_of(fault))},
                                 {"hint", text(fault.hint)}});
        return finish();
    }
    out.ok = true;
    Array pcs;
    for (int i = 0; i < 12; ++i) {
        if ((pitch_set(*symbol) >> i & 1U) != 0) pcs.push_back(number(i));
    }
    Array scales;
    for (const ScaleChoice& choice : scales_for(*symbol)) scales.push_back({scale_object(choice)});
    line.insert(line.end(), {{"ok", {true}},
                             {"root", text(to_string(symbol->root))},
                             {"bass", symbol->bass ? text(to_string(*symbol->bass)) : Data{}},
                             {"pcs", {std::move(pcs)}},
                             {"notes", note_names(chord_notes(*symbol))},
                             {"printed", text(to_string(*symbol))},
                             {"scales", {std::move(scales)}}});
    return finish();
}

}  // namespace shedbook
