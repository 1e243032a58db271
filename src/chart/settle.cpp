#include "settle.h"

#include <algorithm>
#include <utility>

namespace shedbook {
namespace {

bool is_left_bare(const BarMarks& marks) {
    return !marks.repeat_start && !marks.ending_start && marks.signs.at(SignSide::Left).is_empty();
}

bool is_right_bare(const BarMarks& marks) {
    return marks.repeat_end == 0 && marks.signs.at(SignSide::Right).is_empty() && !marks.double_bar;
}

// Whether two bars can carry one two-bar sign between them.
bool can_pair(const Bar& first, const Bar& second) {
    return first.chords.empty() && second.chords.empty() && second.simile == 2 &&
           is_right_bare(first.marks) && is_left_bare(second.marks) &&
           first.marks.endings == second.marks.endings && first.remark.empty() && second.comments.empty() &&
           !second.meter && !second.key && !first.length && !second.length && !first.is_pickup;
}

void settle_endings(Section& section) {
    const Bar* before = nullptr;
    for (Bar& bar : section.bars) {
        BarMarks& marks = bar.marks;
        std::ranges::sort(marks.endings);
        marks.endings.erase(std::unique(marks.endings.begin(), marks.endings.end()), marks.endings.end());
        const bool is_new = before == nullptr || before->marks.endings != marks.endings ||
                            before->marks.repeat_end > 0 || marks.repeat_start;
        marks.ending_start = !marks.endings.empty() && (marks.ending_start || is_new);
        before = &bar;
    }
}

void settle_double_bars(Section& section) {
    for (std::size_t i = 0; i < section.bars.size(); ++i) {
        BarMarks& marks = section.bars[i].marks;
        if (marks.repeat_end > 0) marks.double_bar = false;
        if (i + 1 == section.bars.size() || marks.endings.empty()) continue;
        const BarMarks& next = section.bars[i + 1].marks;
        if (!next.ending_start && next.endings == marks.endings) marks.double_bar = false;
    }
}

// The chords that a repeated bar stands for.
const std::vector<PlacedChord>& model_chords(const std::vector<Bar*>& bars, std::size_t at) {
    while (bars[at]->simile > 0) at -= static_cast<std::size_t>(bars[at]->simile);
    return bars[at]->chords;
}

// Chords of another bar, as many as fit into this one.
std::vector<PlacedChord> fitting(std::vector<PlacedChord> chords, Duration length) {
    std::erase_if(chords, [&](const PlacedChord& chord) { return chord.at - Position{} >= length; });
    return chords;
}

void settle_similes(Section& section, std::vector<Bar*>& bars, Meter meter) {
    for (std::size_t i = 0; i < section.bars.size(); ++i) {
        Bar& bar = section.bars[i];
        bars.push_back(&bar);
        if (bar.meter) meter = *bar.meter;
        const std::size_t at = bars.size() - 1;
        if (!bar.chords.empty() || bar.simile < 0 || bar.simile > 2 ||
            static_cast<std::size_t>(bar.simile) > at) {
            bar.simile = 0;
        }
        if (bar.simile != 2) continue;
        if (i + 1 < section.bars.size() && can_pair(bar, section.bars[i + 1])) {
            bars.push_back(&section.bars[++i]);
        } else {
            bar.chords = fitting(model_chords(bars, at), bar.length.value_or(meter.bar_length()));
            bar.simile = 0;
        }
    }
}

// One line of notes within the bar, each up to the next at most; of several at one place the highest.
void settle_melody(std::vector<MelodyNote>& melody, Duration bar) {
    std::ranges::stable_sort(melody, {}, &MelodyNote::at);
    std::vector<MelodyNote> out;
    for (const MelodyNote& note : melody) {
        if (note.at - Position{} >= bar) break;
        if (out.empty() || out.back().at != note.at) {
            if (!out.empty()) out.back().length = std::min(out.back().length, note.at - out.back().at);
            out.push_back(note);
        } else if (note.pitch && (!out.back().pitch || *out.back().pitch < *note.pitch)) {
            out.back() = note;
        }
    }
    if (!out.empty()) out.back().length = std::min(out.back().length, bar - (out.back().at - Position{}));
    melody = std::move(out);
}

}  // namespace

void settle(Chart& chart) {
    Meter meter = chart.meter.value_or(Meter{});
    bool meter_is_known = chart.meter.has_value();
    std::optional<Key> key = chart.key;
    std::vector<Bar*> bars;
    for (Section& section : chart.sections) {
        const Meter before = meter;
        settle_endings(section);
        settle_double_bars(section);
        for (Bar& bar : section.bars) {
            if (bar.meter && meter_is_known && *bar.meter == meter) bar.meter.reset();
            if (bar.meter) {
                meter = *bar.meter;
                meter_is_known = true;
            }
            if (bar.key && bar.key == key) bar.key.reset();
            if (bar.key) key = bar.key;
            if (bar.length && !bar.is_pickup && *bar.length == meter.bar_length()) bar.length.reset();
            settle_melody(bar.melody, bar.length.value_or(meter.bar_length()));
        }
        settle_similes(section, bars, before);
    }
}

}  // namespace shedbook
