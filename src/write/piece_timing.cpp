#include "shedbook/write/piece_timing.h"

#include <cassert>
#include <cstdint>
#include <vector>

#include "feel.h"
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

double seconds_of(Duration length, double quarters_per_minute) {
    constexpr double kMinute = 60;
    const Rational quarters = length / kQuarter;
    return kMinute / quarters_per_minute * static_cast<double>(quarters.num()) /
           static_cast<double>(quarters.den());
}

// Ticks of a clock that starts at 0 to seconds, tempo by tempo.
class Seconds {
  public:
    Seconds(const Clock& clock, const std::vector<TempoChange>& tempos) : clock_{clock}, tempos_{tempos} {}

    [[nodiscard]] double of_line(Position at) const { return until(at, clock_.of_line(at)); }
    [[nodiscard]] double of_band(Position at) const { return until(at, clock_.of_band(at)); }

  private:
    [[nodiscard]] double until(Position at, std::int64_t tick) const {
        constexpr double kMinute = 60;
        double out = 0;
        for (std::size_t i = 0; i < tempos_.size() && (i == 0 || tempos_[i].at <= at); ++i) {
            const bool goes_on = i + 1 < tempos_.size() && tempos_[i + 1].at <= at;
            const std::int64_t end = goes_on ? clock_.of_band(tempos_[i + 1].at) : tick;
            const std::int64_t begin = i == 0 ? 0 : clock_.of_band(tempos_[i].at);
            out += static_cast<double>(end - begin) * kMinute /
                   (tempos_[i].quarters_per_minute * kMidiTicksPerQuarter);
        }
        return out;
    }

    const Clock& clock_;
    const std::vector<TempoChange>& tempos_;
};

}  // namespace

PieceTiming timing_of(const Block& piece, const SoundOptions& options) {
    const std::vector<WrittenMusic>* parts = music_of(piece);
    assert(parts != nullptr && !parts->empty());
    const WrittenMusic& music = parts->front();
    const Played as = std::holds_alternative<Drill>(piece) ? Played::Drill : Played::Tune;
    PieceTiming out;
    out.times = times_through(music, as, options);
    const Performance performance = perform(music, out.times, 0);
    std::vector<TempoChange> tempos = tempo_changes(music, as, options, performance);
    const double pace = tempos.front().quarters_per_minute;
    out.per_minute = tempos.front().per_minute;
    out.beat_quarters = pace / out.per_minute;
    const Manner manner = manner_of(music.feel, options.feel, music.meter, as, pace);
    if (as == Played::Tune) tempos = with_breaths(tempos, performance, manner.style == BandStyle::Ballad);
    const Clock clock{performance, manner.feel, tempos, 0};
    const Seconds seconds{clock, tempos};
    // Two bars, into which a pickup falls.
    out.count_in = 2 * seconds_of(music.meter.bar_length(), pace) - seconds_of(performance.pickup, pace);
    const std::vector<Duration> written = beginnings(music);
    Position at;
    for (const std::size_t which : measures_in_order(music)) {
        const Measure& measure = music.measures[which];
        out.bars.push_back({which, seconds.of_line(at)});
        for (const Event& event : music.events_of(measure)) {
            const Duration in_measure{Rational{event.at, std::int64_t{4} * music.ticks_per_quarter}};
            out.onsets.push_back(
                {(written[which] + in_measure) / kQuarter, seconds.of_line(at + in_measure)});
        }
        at += written[which + 1] - written[which];
    }
    out.pass = seconds.of_line(at);
    for (const BandBar& bar : performance.bars) {
        for (Duration beat; beat < bar.length && bar.at + beat < at; beat += bar.meter.beat_length())
            out.beats.push_back(seconds.of_band(bar.at + beat));
    }
    return out;
}

}  // namespace shedbook
