// From the bars of a score to a chart: sections, and a form that can be played.
#include <string>
#include <utility>

#include "form.h"
#include "score_bars.h"
#include "settle.h"

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
            BarMarks& marks = bars[static_cast<std::size_t>(fault.bar)]->marks;
            if (fault.severity != Severity::Error) continue;
            if (!marks.jump && !marks.to_coda) {
                messages.error(measure, {}, fault.message, {});
                return false;
            }
            messages.warning(measure, {}, fault.message, "the sign is left out");
            if (marks.jump) {
                marks.jump.reset();
            } else {
                marks.to_coda = false;
            }
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

}  // namespace

bool put_into_chart(std::vector<ScoreBar> bars, Chart& chart, ScoreMessages& messages) {
    spread_repeats_and_endings(bars);
    sort_out_codas(bars);
    join_halves(bars, messages);
    judge_lengths(bars, messages);
    carry_late_chords(bars, messages);
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
