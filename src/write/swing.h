// Written time to ticks of a MIDI file: tempo by tempo, off-beat eighths late where they swing.
#pragma once

#include <cstdint>
#include <set>
#include <vector>

#include "performance.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

// Where the off-beat eighth falls within a quarter of 480 ticks, at so many quarters a minute.
[[nodiscard]] int off_beat_tick(Feel feel, double quarters_per_minute);

// The tempo from a place in a performance on.
struct TempoChange {
    Position at;
    int per_minute = 0;  // beats
    double quarters_per_minute = 0;
    bool is_marked = true;  // a tempo of its own; else the one before, as it breathes
};

class Clock {
  public:
    // `start`: ticks at the beginning of the performance. `tempos`: rising, the first one at its beginning.
    Clock(const Performance& performance, Feel feel, std::vector<TempoChange> tempos, std::int64_t start);

    // Where the line is: beats that have more than two eighths in them stay as written.
    [[nodiscard]] std::int64_t of_line(Position at) const { return tick(at, true); }
    [[nodiscard]] std::int64_t of_band(Position at) const { return tick(at, false); }
    [[nodiscard]] bool is_off_beat(Position at) const;
    [[nodiscard]] double quarters_per_minute(Position at) const { return tempo_at(at).quarters_per_minute; }

  private:
    [[nodiscard]] const TempoChange& tempo_at(Position at) const;
    [[nodiscard]] std::int64_t tick(Position at, bool is_line) const;
    [[nodiscard]] Position beat_of(Position at) const;
    [[nodiscard]] const BandBar* bar_at(Position at) const;

    const Performance& performance_;
    Feel feel_;
    std::vector<TempoChange> tempos_;
    std::int64_t start_;
    std::set<Position> full_beats_;  // beats of the line that are not a pure pair of eighths
};

}  // namespace shedbook
