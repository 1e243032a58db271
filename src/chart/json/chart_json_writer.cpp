#include <string>
#include <utility>

#include "../sign_words.h"
#include "beat_number.h"
#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/io/data.h"

namespace shedbook {
namespace {

Data text(std::string_view value) {
    return {std::string{value}, {}};
}
Data number(std::int64_t value) {
    return {value, {}};
}
Data truth(bool value) {
    return {value, {}};
}

std::string length_text(Duration length) {
    return std::to_string(length.whole_notes.num()) + "/" + std::to_string(length.whole_notes.den());
}

Data strings(const std::vector<std::string>& values) {
    Data::Array out;
    for (const std::string& value : values) out.push_back(text(value));
    return {std::move(out), {}};
}

Data key_data(const std::optional<Key>& key, bool signature_only) {
    if (!key) return {};
    Data::Object out{{"tonic", text(to_string(key->tonic))}, {"mode", text(to_string(key->mode))}};
    if (signature_only) out.emplace_back("signature_only", truth(true));
    return {std::move(out), {}};
}

Data chord_data(const PlacedChord& chord, const Meter& meter) {
    Data::Object out;
    out.emplace_back("beat", beat_of_place(chord.at, meter));
    out.emplace_back("symbol", text(chord.symbol ? to_string(*chord.symbol) : "N.C."));
    out.emplace_back("root", chord.symbol ? text(to_string(chord.symbol->root)) : Data{});
    const bool has_bass = chord.symbol && chord.symbol->bass;
    out.emplace_back("bass", has_bass ? text(to_string(*chord.symbol->bass)) : Data{});
    Data::Array pcs;
    const unsigned set = chord.symbol ? pitch_set(*chord.symbol) : 0U;
    for (int i = 0; i < 12; ++i) {
        if (((set >> static_cast<unsigned>(i)) & 1U) != 0U) pcs.push_back(number(i));
    }
    out.emplace_back("pcs", Data{std::move(pcs), {}});
    if (chord.push > Duration{}) out.emplace_back("push", text(length_text(chord.push)));
    if (chord.is_optional) out.emplace_back("optional", truth(true));
    if (chord.fixed_scale) {
        out.emplace_back("scale", text(to_string(chord.fixed_scale->tonic) + " " +
                                       std::string{chord.fixed_scale->type->name}));
    }
    return {std::move(out), {}};
}

Data melody_data(const MelodyNote& note, const Meter& meter) {
    Data::Object out;
    out.emplace_back("beat", beat_of_place(note.at, meter));
    out.emplace_back("length", text(length_text(note.length)));
    out.emplace_back("pitch", note.pitch ? text(to_string(*note.pitch)) : Data{});
    if (note.is_tied_on) out.emplace_back("tie", truth(true));
    return {std::move(out), {}};
}

// Whether a bracket begins where the numbers alone do not show it.
bool begins_unseen(const Bar& bar, const Bar* before) {
    return bar.marks.ending_start && before != nullptr && before->marks.endings == bar.marks.endings &&
           before->marks.repeat_end == 0 && !bar.marks.repeat_start;
}

void add_marks(Data::Object& out, const BarMarks& marks, bool says_start) {
    if (marks.repeat_start || marks.repeat_end > 0) {
        out.emplace_back("repeat", text(!marks.repeat_start    ? "end"
                                        : marks.repeat_end > 0 ? "both"
                                                               : "start"));
    }
    if (marks.repeat_end > 2) out.emplace_back("times", number(marks.repeat_end));
    if (!marks.endings.empty()) {
        Data::Array numbers;
        for (const int ending : marks.endings) numbers.push_back(number(ending));
        out.emplace_back("ending", Data{std::move(numbers), {}});
        if (says_start) out.emplace_back("ending_start", truth(true));
    }
    if (const auto jump = marks.signs.jump()) out.emplace_back("jump", text(row_of(*jump).word));
    for (const FormSignRow& row : form_signs()) {
        if (!row.jump && marks.signs.has(row.sign)) out.emplace_back(row.id, truth(true));
    }
    if (marks.double_bar) out.emplace_back("double_bar", truth(true));
}

// A plain list where the bar has chords only.
Data bar_data(const Bar& bar, const Bar* before, const Meter& meter) {
    Data::Array chords;
    for (const PlacedChord& chord : bar.chords) chords.push_back(chord_data(chord, meter));
    Data::Object out;
    if (bar.meter) out.emplace_back("meter", text(to_string(*bar.meter)));
    if (bar.key) out.emplace_back("key", key_data(bar.key, false));
    if (bar.is_pickup) out.emplace_back("pickup", truth(true));
    if (bar.length) out.emplace_back("length", text(length_text(*bar.length)));
    if (bar.simile > 0) out.emplace_back("simile", number(bar.simile));
    add_marks(out, bar.marks, begins_unseen(bar, before));
    if (!bar.melody.empty()) {
        Data::Array notes;
        for (const MelodyNote& note : bar.melody) notes.push_back(melody_data(note, meter));
        out.emplace_back("melody", Data{std::move(notes), {}});
    }
    if (!bar.comments.empty()) out.emplace_back("comments", strings(bar.comments));
    if (!bar.remark.empty()) out.emplace_back("remark", text(bar.remark));
    if (out.empty()) return {std::move(chords), {}};
    out.insert(out.begin(), {"chords", Data{std::move(chords), {}}});
    return {std::move(out), {}};
}

Data sections_data(const Chart& chart) {
    Meter meter = chart.meter.value_or(Meter{});
    Data::Array sections;
    for (const Section& section : chart.sections) {
        Data::Array bars;
        const Bar* before = nullptr;
        for (const Bar& bar : section.bars) {
            if (bar.meter) meter = *bar.meter;
            bars.push_back(bar_data(bar, before, meter));
            before = &bar;
        }
        Data::Object out{{"label", text(section.label)}, {"bars", Data{std::move(bars), {}}}};
        if (!section.comments.empty()) out.emplace_back("comments", strings(section.comments));
        if (!section.remark.empty()) out.emplace_back("remark", text(section.remark));
        sections.push_back({std::move(out), {}});
    }
    return {std::move(sections), {}};
}

Data headers_data(const Chart& chart) {
    Data::Array out;
    for (const auto& [name, value] : chart.other_headers) {
        out.push_back({Data::Array{text(name), text(value)}, {}});
    }
    return {std::move(out), {}};
}

}  // namespace

std::string write_chart_json(const Chart& chart, Diagnostics& diagnostics) {
    Data::Object out;
    out.emplace_back("id", text(chart.id));
    out.emplace_back("title", text(chart.title));
    if (!chart.composer.empty()) out.emplace_back("composer", text(chart.composer));
    out.emplace_back("key", key_data(chart.key, chart.key_is_signature_only));
    out.emplace_back("meter", chart.meter ? text(to_string(*chart.meter)) : Data{});
    out.emplace_back("tempo", chart.tempo ? number(*chart.tempo) : Data{});
    out.emplace_back("feel", text(chart.feel));
    if (!chart.written_for.empty()) out.emplace_back("written_for", text(chart.written_for));
    if (!chart.other_headers.empty()) out.emplace_back("headers", headers_data(chart));
    if (!chart.comments.empty()) out.emplace_back("comments", strings(chart.comments));
    out.emplace_back("sections", sections_data(chart));
    if (!chart.closing_comments.empty())
        out.emplace_back("closing_comments", strings(chart.closing_comments));
    if (const auto order = order_of_play(chart, diagnostics)) {
        Data::Array bars;
        for (const int bar : *order) bars.push_back(number(bar + 1));
        out.emplace_back("order", Data{std::move(bars), {}});
    }
    return write_json({std::move(out), {}}) + "\n";
}

}  // namespace shedbook
