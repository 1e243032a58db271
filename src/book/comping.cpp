#include "comping.h"

#include <algorithm>
#include <cassert>
#include <optional>

#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"

namespace shedbook {
namespace {

constexpr int kEighthsOfBar = 8;

std::optional<CompingRhythm> read_rhythm(Fields fields) {
    CompingRhythm out;
    out.feel = fields.word("feel", PhraseFeel::Any);
    out.style = fields.word("style", CompingStyle::Usual);
    out.says = fields.text("says");
    if (const Data* member = fields.find("eighths")) {
        const Data::Array* eighths = member->as_array();
        for (const Data& each : eighths != nullptr ? *eighths : Data::Array{}) {
            const double at = each.as_number().value_or(-1);
            if (at < 0 || at >= kEighthsOfBar) fields.fail(each.where, "an eighth of a bar is 0 to 7");
            out.eighths.push_back(static_cast<int>(at));
        }
    }
    if (!fields.finish()) return std::nullopt;
    return out;
}

// From the beginning of the bar.
std::vector<Duration> places_in(const GroundBar& bar, const CompingRhythm& rhythm) {
    std::vector<Duration> out;
    const bool is_in_four = bar.meter.beats == 4 && bar.meter.unit == 4;
    if (is_in_four && !rhythm.eighths.empty()) {
        for (const int at : rhythm.eighths) out.push_back(kEighth * Rational{at});
        return out;
    }
    const Duration beat = bar.meter.beat_length();
    for (Duration at; at < bar.length; at += beat) out.push_back(at);
    return out;
}

}  // namespace

std::vector<CompingRhythm> read_comping(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("comping", source, diagnostics, read_rhythm);
}

const CompingRhythm* comping_rhythm(PhraseFeel feel, CompingStyle style) {
    static const std::vector<CompingRhythm> kRhythms = read_shipped("comping.toml", read_comping);
    const auto at = std::ranges::find_if(
        kRhythms, [&](const CompingRhythm& rhythm) { return rhythm.feel == feel && rhythm.style == style; });
    assert(at != kRhythms.end() || style != CompingStyle::Usual);  // a test reads both
    return at == kRhythms.end() ? nullptr : &*at;
}

std::vector<ChordStroke> comping_strokes(const EtudeGround& ground, const CompingRhythm& rhythm) {
    std::vector<ChordStroke> out;
    for (const ScaleSpan& span : ground.spans) {
        if (!span.symbol) continue;
        const Position end = span.at + span.length;
        Position from = span.at;
        const auto strike = [&](Position next) {
            out.push_back({&span, from, next - from});
            from = next;
        };
        const bool is_last = end == Position{} + ground.length;
        for (const GroundBar& bar : ground.bars) {
            for (const Duration in_bar : places_in(bar, rhythm)) {
                const Position at = bar.at + in_bar;
                const bool is_early = end - at < bar.meter.beat_length();
                if (!is_last && at > from && at < end && !is_early) strike(at);
            }
        }
        strike(end);
    }
    return out;
}

}  // namespace shedbook
