#include <algorithm>
#include <string>
#include <utility>

#include "../sign_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "tune_endings.h"
#include "tune_headers.h"
#include "tune_places.h"

namespace shedbook {
namespace {

constexpr std::size_t kBarsPerLine = 4;

// One line of text: no line ends within, no blanks around.
std::string one_line(std::string_view text) {
    std::string out{text};
    std::ranges::replace(out, '\n', ' ');
    std::ranges::replace(out, '\r', ' ');
    return std::string{trimmed(out)};
}

std::string padded(std::string text, std::size_t width) {
    const std::size_t length = count_characters(text);
    if (length < width) text.append(width - length, ' ');
    return text;
}

// Lines of comment, each with its mark.
std::string comment_lines(const std::vector<std::string>& comments) {
    std::string out;
    for (const std::string& comment : comments) {
        const std::string text = one_line(comment);
        out += text.empty() ? ";\n" : "; " + text + "\n";
    }
    return out;
}

// A bar ready to be set: what stands between its lines, and the lines.
struct SetBar {
    const Bar* bar = nullptr;
    std::string left;  // "|", "|:", "|1."
    std::string cell;
    std::string right;  // "|", ":|", "||"
    bool breaks_before = false;
    bool breaks_after = false;
};

std::string scale_text(const PlacedChord& chord) {
    const Scale& scale = *chord.fixed_scale;
    const std::string name = lower_case(scale.type->name);
    if (scale.tonic == chord.symbol->root) return "[" + name + "]";
    return "[" + to_string(scale.tonic) + " " + name + "]";
}

std::string chord_text(const PlacedChord& chord, const std::string& place, const SymbolStyle& style) {
    std::string out = place;
    if (chord.push > Duration{}) out += "<";
    out += chord.symbol ? to_string(*chord.symbol, style) : "N.C.";
    if (chord.fixed_scale && chord.symbol) out += scale_text(chord);
    return chord.is_optional ? "(" + out + ")" : out;
}

std::string key_text(Key key) {
    std::string tonic = to_string(key.tonic);
    if (key.mode == Mode::Major) return tonic;
    if (key.mode == Mode::Minor) return tonic + "m";
    return tonic + "-" + to_string(key.mode);
}

class SectionWriter {
  public:
    SectionWriter(const Section& section, const SymbolStyle& style, bool is_last)
        : section_{section}, style_{style}, is_last_{is_last} {}

    // `meter` is in force before and after.
    std::string run(Meter& meter) {
        for (std::size_t i = 0; i < section_.bars.size();) i += set_bar(i, meter);
        break_lines();
        find_widths();
        std::string out;
        for (const auto& line : lines_) out += text_of(line);
        return out;
    }

  private:
    std::size_t set_bar(std::size_t i, Meter& meter) {
        const Bar& bar = section_.bars[i];
        const std::size_t used = bar.simile == 2 && i + 1 < section_.bars.size() ? 2 : 1;
        const Bar& last = section_.bars[i + used - 1];
        const Bar* next = i + used < section_.bars.size() ? &section_.bars[i + used] : nullptr;
        if (bar.meter) meter = *bar.meter;
        SetBar out;
        out.bar = &bar;
        out.left = bar.marks.repeat_start ? "|:" : "|";
        if (bar.marks.ending_start) out.left += endings_text(bar.marks.endings);
        std::vector<std::string> words = left_words(bar, i == 0);
        const std::vector<std::string> music = music_words(bar, meter);
        words.insert(words.end(), music.begin(), music.end());
        const std::vector<std::string> signs = right_words(last, next);
        words.insert(words.end(), signs.begin(), signs.end());
        out.cell = join(words, " ");
        out.right = right_line(last, next == nullptr);
        out.breaks_before = bar.marks.repeat_start || bar.marks.ending_start || !bar.comments.empty() ||
                            bar.marks.signs.has(FormSign::Coda);
        out.breaks_after = last.marks.repeat_end > 0 || last.marks.double_bar || !last.remark.empty();
        remarks_.push_back(one_line(last.remark));
        set_.push_back(std::move(out));
        return used;
    }

    [[nodiscard]] std::vector<std::string> left_words(const Bar& bar, bool is_first) const {
        std::vector<std::string> out;
        const bool is_said = is_first && slug(section_.label) == "coda";  // by the label
        for (const FormSignRow& row : form_signs()) {
            if (row.side != SignSide::Left || !bar.marks.signs.has(row.sign)) continue;
            if (row.sign != FormSign::Coda || !is_said) out.emplace_back(row.word);
        }
        if (bar.key) out.push_back("key " + key_text(*bar.key));
        if (bar.meter) out.push_back(to_string(*bar.meter));
        return out;
    }

    [[nodiscard]] std::vector<std::string> music_words(const Bar& bar, const Meter& meter) const {
        if (bar.simile > 0) {
            std::vector<std::string> out;
            if (bar.length) out.push_back("lasts " + length_text(*bar.length, meter));
            out.emplace_back(bar.simile == 1 ? "%" : "%%");
            return out;
        }
        const Duration length = bar.length.value_or(meter.bar_length());
        const BarLayout layout = lay_out_bar(bar.chords, length, meter, bar.is_pickup);
        std::vector<std::string> out;
        if (bar.is_pickup) out.push_back(pickup_text(length, meter, layout));
        if (bar.length && !bar.is_pickup) out.push_back("lasts " + length_text(length, meter));
        for (const BarLayout::Item& item : layout.items) {
            out.push_back(item.chord < 0 ? "/"
                                         : chord_text(bar.chords[static_cast<std::size_t>(item.chord)],
                                                      item.place, style_));
        }
        return out;
    }

    // In the unit of the meter where that goes: 2/4 of a bar in 4/4, not 1/2.
    static std::string length_text(Duration length, const Meter& meter) {
        const Rational units = length / meter.unit_length();
        if (units.is_whole()) return std::to_string(units.num()) + "/" + std::to_string(meter.unit);
        return std::to_string(length.whole_notes.num()) + "/" + std::to_string(length.whole_notes.den());
    }

    // The length is left out where the slots say it.
    static std::string pickup_text(Duration length, const Meter& meter, const BarLayout& layout) {
        const auto slots =
            std::ranges::count_if(layout.items, [](const auto& item) { return item.place.empty(); });
        if (meter.beat_length() * Rational{slots} == length) return "pickup";
        return "pickup " + length_text(length, meter);
    }

    [[nodiscard]] std::vector<std::string> right_words(const Bar& bar, const Bar* next) const {
        std::vector<std::string> out;
        const BarMarks& marks = bar.marks;
        for (const FormSignRow& row : form_signs()) {
            if (row.side == SignSide::Right && marks.signs.has(row.sign)) out.emplace_back(row.word);
        }
        const bool closed_by_line = marks.repeat_end > 0 || marks.double_bar || next == nullptr ||
                                    next->marks.ending_start || next->marks.repeat_start;
        if (!marks.endings.empty() && !closed_by_line && next->marks.endings.empty()) out.emplace_back("]");
        return out;
    }

    [[nodiscard]] std::string right_line(const Bar& bar, bool is_last_bar) const {
        if (bar.marks.repeat_end > 2) return ":| x" + std::to_string(bar.marks.repeat_end);
        if (bar.marks.repeat_end > 0) return ":|";
        if (bar.marks.double_bar) return "||";
        return is_last_ && is_last_bar ? "|]" : "|";
    }

    void break_lines() {
        std::size_t full_bars = 0;
        bool begins = true;
        for (std::size_t i = 0; i < set_.size(); ++i) {
            if (begins || set_[i].breaks_before || full_bars >= kBarsPerLine) {
                lines_.emplace_back();
                full_bars = 0;
            }
            lines_.back().push_back(i);
            if (!set_[i].bar->is_pickup) full_bars += set_[i].bar->simile == 2 ? 2 : 1;
            begins = set_[i].breaks_after;
        }
    }

    void find_widths() {
        for (const auto& line : lines_) {
            left_width_ = std::max(left_width_, count_characters(set_[line.front()].left));
            for (std::size_t column = 0; column < line.size(); ++column) {
                if (column >= widths_.size()) widths_.push_back(0);
                widths_[column] = std::max(widths_[column], count_characters(set_[line[column]].cell));
            }
        }
    }

    [[nodiscard]] std::string text_of(const std::vector<std::size_t>& line) const {
        std::string out = comment_lines(set_[line.front()].bar->comments);
        out += padded(set_[line.front()].left, left_width_);
        for (std::size_t column = 0; column < line.size(); ++column) {
            const SetBar& bar = set_[line[column]];
            out += " " + padded(bar.cell, widths_[column]) + " " + bar.right;
        }
        const std::string& remark = remarks_[line.back()];
        if (!remark.empty()) out += " ; " + remark;
        return out + "\n";
    }

    const Section& section_;
    const SymbolStyle& style_;
    bool is_last_;
    std::vector<SetBar> set_;
    std::vector<std::string> remarks_;
    std::vector<std::vector<std::size_t>> lines_;
    std::vector<std::size_t> widths_;
    std::size_t left_width_ = 0;
};

std::string headers_text(const Chart& chart) {
    std::string out = comment_lines(chart.comments);
    const auto add = [&](std::string_view name, std::string_view value) {
        const std::string text = one_line(value);
        if (!text.empty()) out += std::string{name} + ": " + text + "\n";
    };
    add("Title", chart.title);
    add("Composer", chart.composer);
    if (chart.key) {
        const bool church = chart.key->mode != Mode::Major && chart.key->mode != Mode::Minor;
        add("Key", church ? to_string(*chart.key) : key_text(*chart.key));
    }
    if (chart.meter) add("Meter", to_string(*chart.meter));
    if (chart.tempo) add("Tempo", std::to_string(*chart.tempo));
    add("Feel", chart.feel);
    add("Written for", chart.written_for);
    for (const auto& [name, value] : chart.other_headers) {
        if (is_kept_header(name, one_line(value))) add(name, value);
    }
    return out;
}

std::string label_text(const Section& section, bool is_first) {
    std::string out = comment_lines(section.comments);
    std::string label = one_line(section.label);
    std::ranges::replace(label, ']', ')');
    const std::string remark = one_line(section.remark);
    if (label.empty() && is_first && out.empty() && remark.empty() && !section.bars.empty()) return out;
    out += "[" + label + "]";
    if (!remark.empty()) out += " ; " + remark;
    return out + "\n";
}

}  // namespace

std::string write_tune(const Chart& chart, const SymbolStyle& style) {
    std::string out = headers_text(chart);
    Meter meter = chart.meter.value_or(Meter{});
    std::size_t last = chart.sections.size();
    while (last > 0 && chart.sections[last - 1].bars.empty()) --last;
    for (std::size_t i = 0; i < chart.sections.size(); ++i) {
        if (!out.empty()) out += "\n";
        out += label_text(chart.sections[i], i == 0);
        out += SectionWriter{chart.sections[i], style, i + 1 == last}.run(meter);
    }
    if (!chart.closing_comments.empty()) out += "\n";
    return out + comment_lines(chart.closing_comments);
}

std::vector<std::string> lost_in_tune(const Chart& chart) {
    bool melody = false;
    for (const Section& section : chart.sections) {
        melody =
            melody || std::ranges::any_of(section.bars, [](const Bar& bar) { return !bar.melody.empty(); });
    }
    std::vector<std::string> out;
    if (melody) out.emplace_back("the melody");
    for (const auto& [name, value] : chart.other_headers) {
        if (!is_kept_header(name, one_line(value))) out.push_back("the header '" + name + "'");
    }
    return out;
}

}  // namespace shedbook
