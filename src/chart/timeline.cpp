#include "shedbook/chart/timeline.h"

#include <algorithm>
#include <numeric>
#include <stdexcept>
#include <string>
#include <utility>

#include "form.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// Times that no paper can show, from the chord on that is too short.
TooMuchToPlay too_fine(const ChordSpan& span) {
    return {span.bar, "chords that share one place are shorter there than can be written"};
}

void set_lengths(std::vector<ChordSpan>& spans, Duration whole) {
    std::vector<Position> struck;
    struck.reserve(spans.size());
    for (const ChordSpan& span : spans) struck.push_back(span.at);
    const std::vector<ShareOfTime> shares = part_time(struck, Position{} + whole);
    std::int64_t parts = 1;
    for (std::size_t i = 0; i < spans.size(); ++i) {
        ChordSpan& span = spans[i];
        span.at = shares[i].at;
        span.length = shares[i].length;
        if (shares[i].is_parted && span.length.whole_notes.den() > kFinestTime) throw too_fine(span);
        parts = std::lcm(parts, std::lcm(span.at.whole_notes.den(), span.length.whole_notes.den()));
        if (parts > kFinestGrid) throw too_fine(span);
    }
}

void add_chords(Timeline& out, const std::vector<SoundingChord>& sounding, const PlayedBar& played) {
    for (const SoundingChord& each : sounding) {
        const auto before = out.chords.empty() ? std::nullopt : std::optional{out.chords.back().at};
        out.chords.push_back({each.inst,
                              played.bar,
                              static_cast<int>(out.bars.size()) - 1,
                              each.at,
                              struck_at(played.at + (each.at - Position{}), each.push(), before),
                              {},
                              each.chord->symbol,
                              each.chord->fixed_scale,
                              each.chord->is_optional});
    }
}

std::vector<int> section_of_bars(const Chart& chart) {
    std::vector<int> out;
    for (std::size_t i = 0; i < chart.sections.size(); ++i) {
        out.insert(out.end(), chart.sections[i].bars.size(), static_cast<int>(i));
    }
    return out;
}

std::string place_in(const Chart& chart, int bar) {
    return chart.name() + ": bar " + std::to_string(bar + 1);
}

Timeline lay_out(const Chart& chart, const std::vector<int>& order) {
    const std::vector<WrittenBar> bars = written_bars(chart);
    const std::vector<int> sections = section_of_bars(chart);
    const std::vector<std::vector<SoundingChord>> sounding = sounding_bars(bars);
    Timeline out;
    TiedMelody melody;
    Position at;
    const auto too_much = [](int bar, std::size_t most, const char* what) {
        return TooMuchToPlay{bar, "more than " + std::to_string(most) + " " + what + " with all repeats"};
    };
    for (const int bar : order) {
        const auto i = static_cast<std::size_t>(bar);
        out.bars.push_back({bar, sections[i], at, bars[i].length, bars[i].meter});
        add_chords(out, sounding[i], out.bars.back());
        melody.add(*bars[i].bar, at);
        at += bars[i].length;
        if (out.chords.size() > kMostPlayed) throw too_much(bar, kMostPlayed, "chords");
        if (melody.notes().size() > kMostPlayed) throw too_much(bar, kMostPlayed, "notes of the melody");
        if (at > Position{Rational{kLongestPlay}}) throw too_much(bar, kLongestPlay, "whole notes");
    }
    out.melody = melody.notes();
    out.length = at - Position{};
    set_lengths(out.chords, out.length);
    return out;
}

}  // namespace

std::optional<std::vector<int>> order_of_play(const Chart& chart, Diagnostics& diagnostics) {
    FormPlan plan = plan_form(chart);
    for (const FormFault& fault : plan.faults) {
        if (fault.severity == Severity::Error) {
            diagnostics.error_at(place_in(chart, fault.bar), fault.message, fault.hint);
        }
    }
    if (!plan.is_playable()) return std::nullopt;
    return std::move(plan.order);
}

std::optional<Timeline> unfold(const Chart& chart, Diagnostics& diagnostics) {
    const std::optional<std::vector<int>> order = order_of_play(chart, diagnostics);
    if (!order) return std::nullopt;
    try {
        return lay_out(chart, *order);
    } catch (const TooMuchToPlay& much) {
        diagnostics.error_at(place_in(chart, much.bar()), much.what());
        return std::nullopt;
    } catch (const std::overflow_error&) {
        // Only a file made to that end has bars of so many odd lengths that no fraction holds their sum.
        diagnostics.error_at(place_in(chart, 0), "the lengths of its bars cannot be added up");
        return std::nullopt;
    }
}

}  // namespace shedbook
