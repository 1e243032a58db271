#include <cstdlib>
#include <vector>

#include "steps.h"

namespace shedbook {
namespace {

// Distances from the middle line in staff places (half spaces): the outer line is 4, every ledger line 2
// more.
constexpr int kFourLedgerLines = 12;
// A note this near the staff still reads well under the line; one nearer ends it.
constexpr int kBesideStaff = 6;
// The line goes on over so few nearer notes, or it would come and go.
constexpr int kBridge = 2;

struct Sounding {
    std::size_t event;
    int place;  // above (or below) the middle line
};

class OctaveLines {
  public:
    OctaveLines(WrittenMusic& music, int side) : music_{music}, side_{side} {
        const int middle = middle_line(music.clef);
        for (std::size_t e = 0; e < music.events.size(); ++e) {
            const auto* note = std::get_if<Sounded>(&music.events[e].what);
            if (note != nullptr)
                notes_.push_back({e, side * (note->pitch.on_paper().staff_place() - middle)});
        }
    }

    void draw() {
        for (std::size_t i = 0; i < notes_.size();) {
            if (notes_[i].place <= kFourLedgerLines) {
                ++i;
                continue;
            }
            std::size_t from = i;
            while (from > drawn_ && notes_[from - 1].place >= kBesideStaff) --from;
            const std::size_t to = end_of_line(i);
            mark(from, to);
            drawn_ = to;
            i = to;
        }
    }

  private:
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
    std::vector<Sounding> notes_;
    std::size_t drawn_ = 0;
};

}  // namespace

// Common practice, no source: 8va over any clef, 8vb under a bass clef only.
void decide_octave_lines(WrittenMusic& music) {
    OctaveLines{music, 1}.draw();
    if (music.clef.sign == 'F') OctaveLines{music, -1}.draw();
}

}  // namespace shedbook
