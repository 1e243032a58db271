#include "tempo_plan.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

namespace shedbook {
namespace {

constexpr int kTimesADrill = 4;
// Where neither the player nor the tune says: a drill to learn, a tune at a medium pace.
constexpr int kDrillTempo = 80;
constexpr int kTuneTempo = 120;

Duration length_of(NoteValue value) {
    Rational length{1};
    for (int i = 0; i < value.log2; ++i) length = length * Rational{1, 2};
    if (value.dots == 1) length = length * Rational{3, 2};
    if (value.dots == 2) length = length * Rational{7, 4};
    return {length};
}

double quarters(int per_minute, Duration beat) {
    const Rational each = beat / kQuarter;
    return static_cast<double>(per_minute) * static_cast<double>(each.num()) /
           static_cast<double>(each.den());
}

std::vector<int> tempos_of(const WrittenMusic& music, Played as, const SoundOptions& options) {
    if (options.tempo) return ladder(*options.tempo);
    if (music.tempo) return {music.tempo->per_minute};
    return {as == Played::Drill ? kDrillTempo : kTuneTempo};
}

// What the tempo counts: the beat of the meter, or what a mark on the page says.
Duration counted_beat(const WrittenMusic& music, const SoundOptions& options) {
    if (!options.tempo && music.tempo) return length_of(music.tempo->beat);
    return music.meter.beat_length();
}

int times_at_a_tempo(Played as, const SoundOptions& options) {
    const auto keys = static_cast<int>(options.keys.size());
    const int usual = keys > 0 ? keys : as == Played::Drill ? kTimesADrill : 1;
    return std::max(1, options.times.value_or(usual));
}

// Shares of the tempo: how long a fermata is and how ballads linger is common practice, no source.
constexpr double kFermata = 0.5;
constexpr double kCaesura = 0.7;
constexpr double kLingering = 0.96;
// A ballad comes to rest beat by beat over its last two bars; what others hold at last is held out of time.
constexpr std::size_t kBarsToRest = 2;
constexpr double kSlowingFrom = 0.98;
constexpr double kSlowingTo = 0.74;
constexpr double kLastHold = 0.7;

struct Slower {
    Position at;
    Duration length;
    double share;
};

void add_lingering(const Performance& performance, std::vector<Slower>& out) {
    const std::vector<BandBar>& bars = performance.bars;
    for (std::size_t i = 0; i + 2 < bars.size(); ++i) {
        const bool ends_section =
            std::ranges::find(performance.sections, bars[i + 1].at) != performance.sections.end();
        if (ends_section)
            out.push_back(
                {bars[i].at + bars[i].length * Rational{1, 2}, bars[i].length * Rational{1, 2}, kLingering});
    }
}

void add_coming_to_rest(const Performance& performance, std::vector<Slower>& out) {
    const std::vector<BandBar>& bars = performance.bars;
    if (bars.size() < kBarsToRest) return;
    std::vector<Slower> beats;
    for (std::size_t i = bars.size() - kBarsToRest; i < bars.size(); ++i) {
        const Duration beat = bars[i].meter.beat_length();
        for (Duration at; at < bars[i].length; at += beat)
            beats.push_back({bars[i].at + at, std::min(beat, bars[i].length - at), 1});
    }
    for (std::size_t i = 0; i < beats.size(); ++i) {
        const double way = static_cast<double>(i + 1) / static_cast<double>(beats.size());
        beats[i].share = kSlowingFrom - way * (kSlowingFrom - kSlowingTo);
        out.push_back(beats[i]);
    }
}

void add_last_hold(const Performance& performance, std::vector<Slower>& out) {
    if (performance.bars.empty()) return;
    out.push_back(
        {Position{performance.length.whole_notes}, performance.bars.back().meter.bar_length(), kLastHold});
}

}  // namespace

std::vector<int> ladder(const TempoPlan& plan) {
    const int step = std::max(1, std::abs(plan.step)) * (plan.to < plan.from ? -1 : 1);
    std::vector<int> out{plan.from};
    while (out.back() != plan.to) {
        const int next = out.back() + step;
        const bool is_past = step > 0 ? next > plan.to : next < plan.to;
        out.push_back(is_past ? plan.to : next);
    }
    return out;
}

int times_through(const WrittenMusic& music, Played as, const SoundOptions& options) {
    const auto steps = static_cast<int>(tempos_of(music, as, options).size());
    const auto bars = static_cast<int>(bars_once_through(music));
    if (options.tempo && options.tempo->bars > 0 && steps > 1 && bars > 0)
        return (steps * options.tempo->bars + bars - 1) / bars;
    return steps * times_at_a_tempo(as, options);
}

std::vector<TempoChange> tempo_changes(const WrittenMusic& music, Played as, const SoundOptions& options,
                                       const Performance& performance) {
    const std::vector<int> tempos = tempos_of(music, as, options);
    const Duration beat = counted_beat(music, options);
    const auto bars = static_cast<std::size_t>(options.tempo ? options.tempo->bars : 0);
    const auto times = static_cast<std::size_t>(times_at_a_tempo(as, options));
    std::vector<TempoChange> out;
    for (std::size_t i = 0; i < tempos.size(); ++i) {
        const std::size_t bar = i * bars;
        const std::size_t pass = i * times;
        if (bars > 0 ? bar >= performance.bars.size() : pass >= performance.passes.size()) break;
        Position at;
        if (i > 0) at = bars > 0 ? performance.bars[bar].at : performance.passes[pass];
        out.push_back({at, tempos[i], quarters(tempos[i], beat)});
    }
    return out;
}

std::vector<TempoChange> with_breaths(const std::vector<TempoChange>& tempos, const Performance& performance,
                                      bool is_ballad) {
    std::vector<Slower> slower;
    for (const HeldPlace& hold : performance.holds)
        slower.push_back({hold.at, hold.length, hold.is_silence ? kCaesura : kFermata});
    if (is_ballad) add_lingering(performance, slower);
    if (is_ballad) add_coming_to_rest(performance, slower);
    add_last_hold(performance, slower);
    std::ranges::stable_sort(slower, {}, &Slower::at);
    std::vector<TempoChange> out = tempos;
    Position free;  // from where on nothing is slowed down yet
    for (const Slower& each : slower) {
        const Position end = each.at + each.length;
        // Where the tempo changes anyhow there is no time to linger.
        const bool changes = std::ranges::any_of(
            tempos, [&](const TempoChange& tempo) { return tempo.at > each.at && tempo.at <= end; });
        if (each.at < free || changes) continue;
        const auto after = std::ranges::upper_bound(tempos, each.at, {}, &TempoChange::at);
        TempoChange now = after == tempos.begin() ? *after : *(after - 1);
        now.is_marked = false;
        TempoChange slow = now;
        slow.at = each.at;
        slow.quarters_per_minute *= each.share;
        now.at = end;
        std::erase_if(out, [&](const TempoChange& tempo) { return !tempo.is_marked && tempo.at == each.at; });
        out.push_back(slow);
        if (end < Position{performance.length.whole_notes}) out.push_back(now);
        free = end;
    }
    std::ranges::stable_sort(out, {}, &TempoChange::at);
    return out;
}

}  // namespace shedbook
