#include "chart/dump.h"

#include <algorithm>

namespace shedbook {
namespace {

std::string text_of(Duration duration) {
    return to_string(duration.whole_notes);
}

std::string beat_text(Position at, const Meter& meter) {
    return to_string((at - Position{}) / meter.unit_length() + Rational{1});
}

std::string chord_text(const PlacedChord& chord, const Meter& meter) {
    std::string out = chord.symbol ? to_string(*chord.symbol) : "N.C.";
    if (chord.at > Position{}) out += "@" + beat_text(chord.at, meter);
    if (chord.push > Duration{}) out += " pushed " + text_of(chord.push);
    if (chord.is_optional) out += " optional";
    if (chord.fixed_scale) out += " takes " + to_string(*chord.fixed_scale);
    return out;
}

void add(std::string& out, bool is_there, std::string_view word) {
    if (is_there) out += " " + std::string{word};
}

std::string marks_text(const BarMarks& marks) {
    std::string out;
    add(out, marks.repeat_start, "repeat-start");
    if (marks.repeat_end > 0) out += " repeat-end x" + std::to_string(marks.repeat_end);
    if (!marks.endings.empty()) {
        out += marks.ending_start ? " ending-starts" : " ending";
        for (const int number : marks.endings) out += " " + std::to_string(number);
    }
    const std::optional<FormSign> jump = marks.signs.jump();
    for (const FormSignRow& row : form_signs()) {
        std::string name{row.id};
        std::ranges::replace(name, '_', '-');
        if (!row.jump) add(out, marks.signs.has(row.sign), name);
    }
    if (jump) out += " jump: " + std::string{row_of(*jump).printed};
    add(out, marks.double_bar, "double-bar");
    return out;
}

std::string bar_text(const Bar& bar, const Meter& meter) {
    std::string out;
    for (const std::string& comment : bar.comments) out += "  comment: " + comment + "\n";
    out += "  bar:";
    if (bar.meter) out += " meter " + to_string(*bar.meter);
    if (bar.key) out += " key " + to_string(*bar.key);
    if (bar.is_pickup) out += " pickup";
    if (bar.length) out += " lasts " + text_of(*bar.length);
    if (bar.simile > 0) out += " simile " + std::to_string(bar.simile);
    out += marks_text(bar.marks) + "\n";
    for (const PlacedChord& chord : bar.chords) out += "    " + chord_text(chord, meter) + "\n";
    for (const MelodyNote& note : bar.melody) {
        out += "    note " + (note.pitch ? to_string(*note.pitch) : "rest") + "@" +
               beat_text(note.at, meter) + " " + text_of(note.length) + (note.is_tied_on ? " tied\n" : "\n");
    }
    if (!bar.remark.empty()) out += "    remark: " + bar.remark + "\n";
    return out;
}

}  // namespace

std::string dump(const Chart& chart) {
    std::string out = "title: " + chart.title + "\n";
    if (!chart.composer.empty()) out += "composer: " + chart.composer + "\n";
    if (chart.key)
        out += "key: " + to_string(*chart.key) + (chart.key_is_signature_only ? " (signature)\n" : "\n");
    if (chart.meter) out += "meter: " + to_string(*chart.meter) + "\n";
    if (chart.tempo) out += "tempo: " + std::to_string(*chart.tempo) + "\n";
    if (!chart.feel.empty()) out += "feel: " + chart.feel + "\n";
    if (!chart.written_for.empty()) out += "written for: " + chart.written_for + "\n";
    for (const auto& [name, value] : chart.other_headers) out += "header " + name + ": " + value + "\n";
    for (const std::string& comment : chart.comments) out += "comment: " + comment + "\n";
    Meter meter = chart.meter.value_or(Meter{});
    for (const Section& section : chart.sections) {
        for (const std::string& comment : section.comments) out += "comment: " + comment + "\n";
        out += "section: " + section.label + "\n";
        if (!section.remark.empty()) out += "remark: " + section.remark + "\n";
        for (const Bar& bar : section.bars) {
            if (bar.meter) meter = *bar.meter;
            out += bar_text(bar, meter);
        }
    }
    for (const std::string& comment : chart.closing_comments) out += "closing comment: " + comment + "\n";
    return out;
}

std::string dump(const Timeline& timeline) {
    std::string out;
    for (const ChordSpan& span : timeline.chords) {
        out += (out.empty() ? "" : " ") + (span.symbol ? to_string(*span.symbol) : "N.C.") + "@" +
               to_string(span.at.whole_notes) + "+" + text_of(span.length);
    }
    return out;
}

std::string chords_of(const Chart& chart) {
    std::string out;
    for (const WrittenBar& bar : written_bars(chart)) {
        if (bar.index > 0) out += " | ";
        if (bar.bar->simile > 0) out += bar.bar->simile == 1 ? "%" : "%%";
        for (std::size_t i = 0; i < bar.bar->chords.size(); ++i) {
            out += (i > 0 ? " " : "") + chord_text(bar.bar->chords[i], bar.meter);
        }
    }
    return out;
}

std::string played(const Chart& chart) {
    Diagnostics diagnostics;
    const auto order = order_of_play(chart, diagnostics);
    std::string out;
    if (!order) return diagnostics.all().empty() ? "error" : diagnostics.all().front().message;
    for (const int bar : *order) out += (out.empty() ? "" : " ") + std::to_string(bar + 1);
    return out;
}

}  // namespace shedbook
