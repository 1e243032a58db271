#include "shedbook/write/piece_timing.h"

#include <cassert>

#include "performance.h"
#include "shedbook/notation/pieces.h"
#include "shedbook/write/midi.h"
#include "swing.h"
#include "tempo_plan.h"

namespace shedbook {
namespace {

// Measures of the written music with the places at which they begin in it.
std::vector<Duration> beginnings(const WrittenMusic& music) {
    std::vector<Duration> out;
    Duration at;
    for (const Measure& measure : music.measures) {
        out.push_back(at);
        Ticks end = 0;
        for (const Event& event : music.events_of(measure)) end = event.at + event.length;
        at += Duration{Rational{end, std::int64_t{4} * music.ticks_per_quarter}};
    }
    out.push_back(at);
    return out;
}

}  // namespace

PieceTiming timing_of(const Block& piece, const SoundOptions& options) {
    const std::vector<WrittenMusic>* parts = music_of(piece);
    assert(parts != nullptr && !parts->empty());
    const WrittenMusic& music = parts->front();
    const Played as = std::holds_alternative<Drill>(piece) ? Played::Drill : Played::Tune;
    PieceTiming out;
    out.times = times_through(music, as, options);
    const Performance performance = perform(music, out.times, 0);
    const std::vector<TempoChange> tempos = tempo_changes(music, as, options, performance);
    const double seconds_per_tick = 60.0 / tempos.front().quarters_per_minute / kMidiTicksPerQuarter;
    out.per_minute = tempos.front().per_minute;
    out.beat_quarters = tempos.front().quarters_per_minute / out.per_minute;
    const Clock clock{performance, feel_of(music.feel, options.feel), tempos, 0};
    const auto seconds = [&](Position at) {
        return static_cast<double>(clock.of_line(at)) * seconds_per_tick;
    };
    const auto seconds_of = [&](Duration length) {
        const Rational ticks = length.whole_notes * Rational{std::int64_t{4} * kMidiTicksPerQuarter};
        return static_cast<double>(ticks.num()) / static_cast<double>(ticks.den()) * seconds_per_tick;
    };
    // Two bars, into which a pickup falls.
    out.count_in = 2 * seconds_of(music.meter.bar_length()) - seconds_of(performance.pickup);
    const std::vector<Duration> written = beginnings(music);
    Position at;
    for (const std::size_t which : measures_in_order(music)) {
        const Measure& measure = music.measures[which];
        out.bars.push_back({which, seconds(at)});
        for (const Event& event : music.events_of(measure)) {
            const Duration in_measure{Rational{event.at, std::int64_t{4} * music.ticks_per_quarter}};
            out.onsets.push_back({(written[which] + in_measure) / kQuarter, seconds(at + in_measure)});
        }
        at += written[which + 1] - written[which];
    }
    out.pass = seconds_of(at - Position{});
    for (const BandBar& bar : performance.bars) {
        for (Duration beat; beat < bar.length && bar.at + beat < at; beat += bar.meter.beat_length())
            out.beats.push_back(seconds_of(bar.at + beat - Position{}));
    }
    return out;
}

}  // namespace shedbook
