// What sounds in each bar of a line, its rests cut where the chords change, before it becomes written values.
#pragma once

#include <cstdint>
#include <vector>

#include "shedbook/notation/notate.h"
#include "shedbook/notation/written_music.h"

namespace shedbook {

// Counted from the start of the line, where an opera act has more than a Ticks holds.
using LineTicks = std::int64_t;
// Ticks come out even: see ticks_needed().
[[nodiscard]] LineTicks to_line_ticks(Rational whole_notes, Ticks ticks_per_quarter);
[[nodiscard]] Ticks to_ticks(Rational whole_notes, Ticks ticks_per_quarter);

// How many ticks a quarter must have for everything in the line to come out even. UnwritableMusic if that is
// too fine.
[[nodiscard]] Ticks ticks_needed(const ConcertLine& line, const NotateOptions& options);

// The smallest division of a beat, up to 16, on which all of these places lie; 0 if there is none.
[[nodiscard]] int division_of(const std::vector<Ticks>& places, Ticks beat);

// What sounds (or does not) through a stretch of a bar.
struct Stretch {
    enum class Kind { Rest, Note, Open };

    Ticks at = 0;
    Ticks length = 0;
    Kind kind = Kind::Rest;
    const LineNote* note = nullptr;
    bool tied_from_before = false;
    bool tied_on = false;
};

class SoundOfBars {
  public:
    SoundOfBars(const ConcertLine& line, Ticks ticks_per_quarter)
        : line_{line}, ticks_per_quarter_{ticks_per_quarter} {}

    struct Bar {
        LineTicks start = 0;
        Ticks length = 0;
        Ticks shift = 0;  // how far behind the beginning of a full bar it begins
        Ticks beat = 0;
    };
    // The notes of a bar and what lies between them; bars are asked for in order. `cuts`: where chords
    // change. A note is one value as long as its meter has one for it, whatever changes under it.
    [[nodiscard]] std::vector<Stretch> in_bar(const Bar& bar, std::vector<Ticks> cuts);
    [[nodiscard]] LineTicks ticks_at(Position place) const {
        return to_line_ticks(place.whole_notes, ticks_per_quarter_);
    }
    [[nodiscard]] Ticks ticks_per_quarter() const { return ticks_per_quarter_; }

  private:
    void collect(LineTicks start, Ticks length);
    void add_cut(Stretch stretch);
    void add_silence(LineTicks start, Ticks from, Ticks to);
    [[nodiscard]] std::vector<Ticks> note_edges(const Bar& bar) const;
    void drop_cuts_that_no_value_has(const Bar& bar);

    const ConcertLine& line_;
    Ticks ticks_per_quarter_;
    std::size_t next_note_ = 0;
    std::size_t next_open_ = 0;
    std::vector<Ticks> cuts_;
    std::vector<Stretch> stretches_;
};

}  // namespace shedbook
