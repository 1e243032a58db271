#include "tune_checks.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "../form.h"
#include "../settle.h"
#include "../time_limits.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "tune_headers.h"

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

// The first line that nobody can have typed.
std::optional<std::size_t> too_long_line(std::string_view text) {
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        if (end - begin > kLongestChartLine) return begin;
        begin = end + 1;
    }
    return std::nullopt;
}

// A chord, or a slash that lets one go on.
bool fills_a_beat(const TuneToken& word) {
    return (word.text.front() >= 'A' && word.text.front() <= 'G') || word.text == "/";
}

bool has_three_in_bars(const std::vector<TuneToken>& tokens) {
    constexpr int kThree = 3;
    constexpr int kLeastBars = 2;
    int bars = 0;
    int beats = 0;
    bool is_plain = true;
    for (const TuneToken& token : tokens) {
        if (token.kind == TokenKind::Header && header_kind(token.name) == HeaderKind::Meter) return false;
        if (token.kind == TokenKind::Word) {
            is_plain = is_plain && fills_a_beat(token);
            ++beats;
        } else if (token.kind == TokenKind::BarSign) {
            if (is_plain && beats > 1 && beats != kThree) return false;
            bars += is_plain && beats == kThree ? 1 : 0;
            beats = 0;
            is_plain = true;
        }
    }
    return bars >= kLeastBars;
}

}  // namespace

bool is_readable_text(const SourceText& source, Diagnostics& diagnostics) {
    if (source.text.size() > kLargestTextChart) {
        diagnostics.error_at(source.name, "this text is larger than 4 MiB; no chart is", {});
        return false;
    }
    if (!is_valid_utf8(source.text)) {
        diagnostics.error_at(source.name, "this is no UTF-8 text", "save it as UTF-8 in the editor");
        return false;
    }
    if (const auto line = too_long_line(source.text)) {
        diagnostics.error(source, {*line, *line + 1},
                          "this line is longer than " + std::to_string(kLongestChartLine) + " bytes",
                          "four bars a line are easy to read");
        return false;
    }
    return true;
}

std::optional<Meter> meter_of_bars(const std::vector<TuneToken>& tokens, const SourceText& source,
                                   Diagnostics& diagnostics) {
    if (!has_three_in_bars(tokens)) return std::nullopt;
    diagnostics.note_at(source.name, "no Meter line, and three in every bar that has several: read in 3/4",
                        "Meter: 3/4");
    return Meter{3, 4};
}

void check_tune(Chart& chart, const std::vector<Span>& labels, bool checks_form, const SourceText& source,
                Diagnostics& diagnostics) {
    for (std::size_t i = 0; i < chart.sections.size(); ++i) {
        if (!chart.sections[i].bars.empty()) continue;
        diagnostics.warning(source, labels[i], "this section has no bars", {});
    }
    check_similes(chart, source, diagnostics);
    settle(chart);
    check_times(chart, source, diagnostics);
    if (checks_form) check_form(chart, source, diagnostics);
}

}  // namespace shedbook
