#include "tune_checks.h"

#include <utility>

#include "form.h"
#include "settle.h"

namespace shedbook {
namespace {

void check_similes(const Chart& chart, const SourceText& source, Diagnostics& diagnostics) {
    int before = 0;
    for (const Section& section : chart.sections) {
        for (const Bar& bar : section.bars) {
            if (bar.simile <= before++) continue;
            diagnostics.error(source, bar.where,
                              bar.simile == 1 ? "there is no bar before it to repeat"
                                              : "there are no two bars before it to repeat",
                              "write the chords of the bar");
            return;  // the second bar of a two-bar sign has the same fault
        }
    }
}

void check_form(const Chart& chart, const SourceText& source, Diagnostics& diagnostics) {
    FormPlan plan = plan_form(chart);
    const std::vector<WrittenBar> bars = written_bars(chart);
    for (FormFault& fault : plan.faults) {
        const Span where = bars[static_cast<std::size_t>(fault.bar)].bar->where;
        if (fault.severity == Severity::Error) {
            diagnostics.error(source, where, std::move(fault.message), std::move(fault.hint));
        } else {
            diagnostics.warning(source, where, std::move(fault.message), std::move(fault.hint));
        }
    }
}

}  // namespace

void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics) {
    for (std::size_t i = 0; i < chart.sections.size(); ++i) {
        if (!chart.sections[i].bars.empty()) continue;
        diagnostics.warning(source, labels[i], "this section has no bars", {});
    }
    check_similes(chart, source, diagnostics);
    settle(chart);
    if (checks_form) check_form(chart, source, diagnostics);
}

}  // namespace shedbook
