// The steps of notate(), each in its own file. They work on integer ticks.
#pragma once

#include <cstdint>
#include <vector>

#include "shedbook/notation/notate.h"
#include "shedbook/notation/written_music.h"

namespace shedbook {

// How strong each tick of a bar is: 0 the bar's beginning, 1 the beginning of a group (the middle of 4/4), 2
// a beat, 3 half a beat, and so on.
class MetricGrid {
  public:
    MetricGrid(const Meter& meter, Ticks ticks_per_quarter);
    [[nodiscard]] int level(Ticks at) const { return levels_[static_cast<std::size_t>(at)]; }
    [[nodiscard]] Ticks bar() const { return static_cast<Ticks>(levels_.size()); }
    [[nodiscard]] Ticks unit() const { return unit_; }
    // A beat for tuplets and beams: a quarter, or the unit where that is shorter.
    [[nodiscard]] Ticks beat() const { return beat_; }
    [[nodiscard]] const std::vector<Ticks>& group_starts() const { return group_starts_; }
    [[nodiscard]] bool is_compound() const { return compound_; }
    [[nodiscard]] const Meter& meter() const { return meter_; }

  private:
    Meter meter_;
    Ticks unit_;
    Ticks beat_;
    bool compound_;
    std::vector<std::int8_t> levels_;
    std::vector<Ticks> group_starts_;
};

inline constexpr int kShortestValue = 6;  // a sixty-fourth note, as NoteValue::log2

// The single value, dotted at most once, that lasts so long.
struct FoundValue {
    bool found = false;
    NoteValue value;
};
[[nodiscard]] FoundValue value_of(Ticks length, Ticks ticks_per_quarter);

// The same where there must be one: UnwritableMusic if there is none.
[[nodiscard]] NoteValue drawn_value(Ticks length, Ticks ticks_per_quarter);
[[noreturn]] void throw_unwritable(Ticks length, Ticks ticks_per_quarter);

// Cuts [at, at + length) of a bar into pieces that can each be written as one note or rest, so that the
// strong places of the bar stay visible. Appends the lengths to `pieces`.
void split_into_values(const MetricGrid& grid, Ticks ticks_per_quarter, Ticks at, Ticks length, bool is_rest,
                       std::vector<Ticks>& pieces);

// Fills Sounded::shown over the whole piece.
void decide_accidentals(WrittenMusic& music);

// Puts bars into the instrument's high clef where they are easier to read there.
void decide_clefs(WrittenMusic& music, const Instrument& instrument);

// Fills Sounded::octave_line over the whole piece, whose beams and clefs are decided.
void decide_octave_lines(WrittenMusic& music, const Instrument& instrument);

// Fills Event::beams over the whole piece. A pickup is beamed as the end of a full bar.
void decide_beams(WrittenMusic& music);

}  // namespace shedbook
