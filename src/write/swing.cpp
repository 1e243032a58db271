#include "swing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "shedbook/write/midi.h"

namespace shedbook {
namespace {

constexpr int kEven = kMidiTicksPerQuarter / 2;
constexpr int kTwoToOne = kMidiTicksPerQuarter * 2 / 3;
// From two to one at a walking tempo to nearly even at a run. That the ratio falls as the tempo rises:
// Friberg and Sundström, Swing ratios and ensemble timing in jazz performance, Music Perception 19 (2002),
// from memory; the line is ours.
constexpr int kNearlyEven = 260;
constexpr double kWalk = 160;
constexpr double kRun = 280;

// Meters that count eighths never swing: their three eighths are the swing.
bool can_swing(const Meter& meter) {
    return meter.unit <= 4;
}

}  // namespace

int off_beat_tick(Feel feel, double quarters_per_minute) {
    if (feel == Feel::Straight) return kEven;
    if (feel == Feel::TwelveEight) return kTwoToOne;
    const double share = std::clamp((quarters_per_minute - kWalk) / (kRun - kWalk), 0.0, 1.0);
    return static_cast<int>(std::lround(kTwoToOne - share * (kTwoToOne - kNearlyEven)));
}

Clock::Clock(const Performance& performance, Feel feel, std::vector<TempoChange> tempos, std::int64_t start)
    : performance_{performance}, feel_{feel}, tempos_{std::move(tempos)}, start_{start} {
    for (const Position edge : performance.edges) {
        const Duration in_beat = edge - beat_of(edge);
        if (in_beat != Duration{} && in_beat != kEighth) full_beats_.insert(beat_of(edge));
    }
}

const BandBar* Clock::bar_at(Position at) const {
    const auto after = std::ranges::upper_bound(performance_.bars, at, {}, &BandBar::at);
    return after == performance_.bars.begin() ? nullptr : &*(after - 1);
}

// The quarter that a place lies in, counted from the bar; a pickup's are counted from its end.
Position Clock::beat_of(Position at) const {
    const BandBar* bar = bar_at(at);
    Position zero{performance_.pickup.whole_notes};
    if (bar != nullptr) zero = bar->at - std::max(Duration{}, bar->meter.bar_length() - bar->length);
    const Rational quarters = (at - zero) / kQuarter;
    return zero + kQuarter * Rational{quarters.floor()};
}

bool Clock::is_off_beat(Position at) const {
    const BandBar* bar = bar_at(at);
    if (bar == nullptr && !performance_.bars.empty()) bar = &performance_.bars.front();
    return bar != nullptr && can_swing(bar->meter) && at - beat_of(at) == kEighth;
}

std::int64_t Clock::tick(Position at, bool is_line) const {
    const Rational exact = at.whole_notes * Rational{std::int64_t{4} * kMidiTicksPerQuarter};
    const std::int64_t even = start_ + (exact + Rational{1, 2}).floor();
    if (!is_off_beat(at) || (is_line && full_beats_.contains(beat_of(at)))) return even;
    return even + off_beat_tick(feel_, tempo_at(at).quarters_per_minute) - kEven;
}

const TempoChange& Clock::tempo_at(Position at) const {
    const auto after = std::ranges::upper_bound(tempos_, at, {}, &TempoChange::at);
    return after == tempos_.begin() ? *after : *(after - 1);
}

}  // namespace shedbook
