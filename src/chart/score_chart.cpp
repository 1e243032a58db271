// From the bars of a score to a chart: sections, and a form that can be played.
#include <algorithm>
#include <string>
#include <utility>

#include "form.h"
#include "score_bars.h"
#include "settle.h"
#include "time_limits.h"

namespace shedbook {
namespace {

bool is_melody_empty(const std::vector<ScoreBar>& bars) {
    for (const ScoreBar& bar : bars) {
        for (const MelodyNote& note : bar.bar.melody) {
            if (note.pitch) return false;
        }
    }
    return true;
}

// Signs that lead nowhere must not keep a player from the tune: they are left out one after the other, and it
// is said.
bool mend_form(Chart& chart, const std::vector<int>& measures, ScoreMessages& messages) {
    std::vector<Bar*> bars;
    for (Section& section : chart.sections) {
        for (Bar& bar : section.bars) bars.push_back(&bar);
    }
    constexpr int kMostTries = 64;
    for (int tries = 0; tries < kMostTries; ++tries) {
        FormPlan plan = plan_form(chart);
        bool has_changed = false;
        for (const FormFault& fault : plan.faults) {
            const int measure = measures[static_cast<std::size_t>(fault.bar)];
            SignSet& signs = bars[static_cast<std::size_t>(fault.bar)]->marks.signs;
            if (fault.severity != Severity::Error) continue;
            const std::optional<FormSign> jump = signs.jump();
            if (!jump && !signs.has(FormSign::ToCoda)) {
                messages.error(measure, {}, fault.message, {});
                return false;
            }
            messages.warning(measure, {}, fault.message, "the sign is left out");
            signs.remove(jump.value_or(FormSign::ToCoda));
            has_changed = true;
        }
        if (has_changed) continue;
        for (const FormFault& fault : plan.faults) {
            messages.warning(measures[static_cast<std::size_t>(fault.bar)], {}, fault.message, {});
        }
        return true;
    }
    messages.error(0, {}, "the repeats and jumps of this score contradict each other", {});
    return false;
}

// A melody with notes that cannot be written is left out of its bar: the chords are what a score is read for.
bool check_times(std::vector<ScoreBar>& bars, ScoreMessages& messages) {
    TimeLimits limits;
    bool is_good = true;
    for (ScoreBar& bar : bars) {
        const WrittenBar written{nullptr, &bar.bar, bar.meter.value_or(Meter{}), bar.content, bar.measure};
        if (auto fault = limits.take(written)) {
            messages.error(bar.measure, {}, std::move(fault->message), std::move(fault->hint));
            is_good = false;
        } else if (auto odd = limits.take_melody(written)) {
            messages.warning(bar.measure, {}, std::move(odd->message), "the melody of this bar is left out");
            bar.bar.melody.clear();
        }
    }
    return is_good;
}

}  // namespace

bool put_into_chart(std::vector<ScoreBar> bars, Chart& chart, ScoreMessages& messages) {
    spread_repeats_and_endings(bars);
    sort_out_codas(bars);
    const Meter meter = chart.meter.value_or(Meter{});
    fill_empty_bars(bars, meter);
    if (!check_times(bars, messages)) return false;
    carry_late_chords(bars, messages);
    join_halves(bars, messages);
    judge_lengths(bars, meter, messages);
    mark_similes(bars);
    bars.back().bar.marks.double_bar = false;
    const bool has_melody = !is_melody_empty(bars);
    std::vector<int> measures;
    for (ScoreBar& bar : bars) {
        if (bar.has_label || chart.sections.empty()) chart.sections.push_back({std::move(bar.label), {}});
        if (!has_melody) bar.bar.melody.clear();
        chart.sections.back().bars.push_back(std::move(bar.bar));
        measures.push_back(bar.measure);
    }
    settle(chart);
    return mend_form(chart, measures, messages);
}

}  // namespace shedbook
