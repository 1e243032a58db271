// How fast a piece is played, how often, and where the tempo changes.
#pragma once

#include <vector>

#include "shedbook/notation/document.h"
#include "shedbook/write/sound_options.h"
#include "swing.h"

namespace shedbook {

// What is played in a row: a drill is played more often than a whole tune, and slower.
enum class Played { Drill, Tune };

// The tempos one after the other, in beats a minute.
[[nodiscard]] std::vector<int> ladder(const TempoPlan& plan);

// How often a piece is played in all.
[[nodiscard]] int times_through(const WrittenMusic& music, Played as, const SoundOptions& options);

// The tempos over a performance of so many times through; the first stands at its beginning.
[[nodiscard]] std::vector<TempoChange> tempo_changes(const WrittenMusic& music, Played as,
                                                     const SoundOptions& options,
                                                     const Performance& performance);

// The same with what a metronome does not know: a fermata is held twice as long, a caesura waits, the last
// chord is held longer than it is written, and a ballad lingers at the ends of its sections and slows down
// beat by beat over its last two bars.
[[nodiscard]] std::vector<TempoChange> with_breaths(const std::vector<TempoChange>& tempos,
                                                    const Performance& performance, bool is_ballad);

}  // namespace shedbook
