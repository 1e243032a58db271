// Small tools that the makers of lines share.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/etude/ground.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

// All these notes in the range, from the lowest up.
[[nodiscard]] std::vector<Pitch> in_range(const std::vector<PitchClass>& notes, PitchRange range);
// The one nearest to a pitch; of two as near the one in this direction (1 up, -1 down). The list must not be
// empty.
[[nodiscard]] Pitch nearest_to(const std::vector<Pitch>& notes, Pitch from, int direction);
// The next one above (1) or below (-1) a pitch, whether or not that is one of them.
[[nodiscard]] std::optional<Pitch> next_of(const std::vector<Pitch>& notes, Pitch from, int direction);
// The middle of a range.
[[nodiscard]] Pitch middle_of(PitchRange range);
// Root, third, fifth and seventh of a chord, without its colours.
[[nodiscard]] std::vector<PitchClass> plain_tones(const ScaleSpan& span);

inline void add_note(ConcertLine& line, Pitch pitch, Position at, Duration length) {
    line.notes.push_back({pitch, at, length});
}
// A long note, struck again at the bar lines.
void add_long_note(ConcertLine& line, const EtudeGround& ground, Pitch pitch, Position at, Duration length);
inline void explain(ConcertLine& line, bool wanted, Position at, const char* text) {
    if (wanted) line.texts.push_back({at, text});
}
// How many bars each time through has.
[[nodiscard]] inline std::size_t bars_of_chorus(const EtudeGround& ground) {
    return (ground.bars.size() - (ground.has_last_time ? 1 : 0)) / static_cast<std::size_t>(ground.choruses);
}
// The bar that a place is in.
[[nodiscard]] const GroundBar& bar_at(const EtudeGround& ground, Position at);

}  // namespace shedbook
