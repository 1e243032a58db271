#include "slurs.h"

#include <algorithm>
#include <cstdlib>

#include "line_tools.h"

namespace shedbook {

// Two eighths on one breath or bow, a fourth apart at most (common practice): swung, from the one off the
// beat into the beat; straight, from the beat.
void add_slurs(ConcertLine& line, const EtudeGround& ground, bool is_swung) {
    constexpr int kFourth = 5;
    const auto begins_pass = [&](Position at) {
        const GroundBar& bar = bar_at(ground, at);
        const auto index = static_cast<std::size_t>(&bar - ground.bars.data());
        return bar.at == at && index % bars_of_chorus(ground) == 0;
    };
    for (std::size_t i = 0; i + 1 < line.notes.size(); ++i) {
        LineNote& note = line.notes[i];
        LineNote& next = line.notes[i + 1];
        const GroundBar& bar = bar_at(ground, note.at);
        if (bar.meter.is_compound() || bar.meter.unit != 4 || note.slur_stops) continue;
        const Rational beats = (note.at - bar.at) / kQuarter;
        const Rational in_beat = beats - Rational{beats.floor()};
        const bool starts = in_beat == (is_swung ? Rational{1, 2} : Rational{0});
        const int by = std::abs(next.pitch.midi() - note.pitch.midi());
        const bool is_joined = note.length == kEighth && next.at == note.at + note.length &&
                               next.length >= kEighth && by > 0 && by <= kFourth;
        const bool is_pair = is_swung ? next.length <= kQuarter : next.length == kEighth;
        const bool breathes = std::ranges::binary_search(line.breaths, next.at);
        if (!starts || !is_joined || !is_pair || breathes || begins_pass(next.at)) continue;
        note.slur_starts = true;
        next.slur_stops = true;
    }
}

}  // namespace shedbook
