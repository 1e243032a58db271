#include <algorithm>
#include <cstdlib>
#include <vector>

#include "steps.h"

namespace shedbook {
namespace {

// Distances from the middle line in staff places (half spaces): the outer line is 4, every ledger line 2
// more; the note beside the last ledger line belongs to it.
constexpr int place_of_ledger_lines(int count) {
    return 4 + 2 * count;
}
// A note this near the staff still reads well under the line; one nearer ends it.
constexpr int kBesideStaff = 6;
// The line goes on over so few nearer notes, or it would come and go.
constexpr int kBridge = 2;
// An octave lower than here a note would hang below the staff.
constexpr int kNearest = 1;
// A line for fewer notes is harder to read than the notes.
constexpr std::size_t kFewest = 6;

struct Sounding {
    std::size_t event;
    int place;    // above (or below) the middle line
    int nearest;  // the same of the other end of a chord
};

class OctaveLines {
  public:
    OctaveLines(WrittenMusic& music, int side, int ledger_lines)
        : music_{music}, side_{side}, highest_{place_of_ledger_lines(ledger_lines)} {
        const std::vector<Clef> clefs = music.clefs();
        for (std::size_t m = 0; m < music.measures.size(); ++m) {
            const Measure& measure = music.measures[m];
            const int middle = middle_line(clefs[m]);
            for (std::size_t e = 0; e < measure.event_count; ++e) {
                const auto* note = std::get_if<Sounded>(&music.events[measure.first_event + e].what);
                if (note == nullptr) continue;
                const auto [low, high] = music.staff_places(*note);
                notes_.push_back({measure.first_event + e,
                                  std::max(side * (low - middle), side * (high - middle)),
                                  std::min(side * (low - middle), side * (high - middle))});
            }
        }
    }

    void draw() {
        for (std::size_t i = 0; i < notes_.size();) {
            if (notes_[i].place <= highest_) {
                ++i;
                continue;
            }
            std::size_t from = i;
            while (from > drawn_ && notes_[from - 1].place >= kBesideStaff) --from;
            std::size_t to = end_of_line(i);
            // No part of a beam: without what reads well as it is, or the whole of it.
            while (from > drawn_ && is_joined(from - 1) && notes_[from].place <= highest_) ++from;
            while (from > drawn_ && is_joined(from - 1)) --from;
            if (!may_hold_beam(to)) {
                while (to < notes_.size() && is_joined(to - 1) && notes_[to - 1].place <= highest_) --to;
            }
            while (to < notes_.size() && is_joined(to - 1)) ++to;
            if (is_worth_it(from, to)) mark(from, to);
            drawn_ = to;
            i = to;
        }
    }

  private:
    // By a beam, or as one note in two values, to the next one.
    [[nodiscard]] bool is_joined(std::size_t i) const {
        const Event& event = music_.events[notes_[i].event];
        return event.beams[0] == Beam::Begin || event.beams[0] == Beam::Continue ||
               std::get<Sounded>(event.what).tied_on;
    }

    // The line may go on to the end of the beam that it would cut, not into the staff.
    [[nodiscard]] bool may_hold_beam(std::size_t to) const {
        for (; to < notes_.size() && is_joined(to - 1); ++to) {
            if (notes_[to].nearest < kBesideStaff) return false;
        }
        return true;
    }

    [[nodiscard]] bool is_worth_it(std::size_t from, std::size_t to) const {
        if (to - from < kFewest) return false;
        for (std::size_t i = from; i < to; ++i) {
            if (notes_[i].nearest < kNearest) return false;
        }
        return true;
    }

    // One behind the last note under the line that notes_[peak] needs.
    [[nodiscard]] std::size_t end_of_line(std::size_t peak) const {
        std::size_t end = peak + 1;
        int nearer = 0;
        for (std::size_t i = peak + 1; i < notes_.size() && nearer <= kBridge; ++i) {
            nearer = notes_[i].place >= kBesideStaff ? 0 : nearer + 1;
            if (nearer == 0) end = i + 1;
        }
        return end;
    }

    void mark(std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) {
            auto& note = std::get<Sounded>(music_.events[notes_[i].event].what);
            note.octave_line = static_cast<std::int8_t>(side_);
            note.octave_line_starts = i == from;
            note.octave_line_stops = i + 1 == to;
        }
    }

    WrittenMusic& music_;
    int side_;
    int highest_;  // place that reads well without a line
    std::vector<Sounding> notes_;
    std::size_t drawn_ = 0;
};

}  // namespace

// Common practice, no source: 8va over any clef, 8vb under a bass clef only, and only for players who read
// them: of others each note is written where it is.
void decide_octave_lines(WrittenMusic& music, const Instrument& instrument) {
    if (!instrument.ledger_lines) return;
    OctaveLines{music, 1, *instrument.ledger_lines}.draw();
    if (music.clef.sign == 'F') OctaveLines{music, -1, *instrument.ledger_lines}.draw();
}

}  // namespace shedbook
