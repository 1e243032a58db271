#include "fretboard.h"

#include <algorithm>
#include <cstdlib>
#include <limits>

namespace shedbook {
namespace {

// One way to play a note: the hand lies with its first finger at `hand`.
struct Way {
    std::size_t string = 0;  // as in Instrument::strings
    int fret = 0;
    int hand = 1;
    int cost = 0;
    int total = 0;
    std::size_t before = 0;  // of the ways of the note before
};

// What moving costs, against each other (our own weights).
constexpr int kShift = 6;     // the hand leaves its place,
constexpr int kEachFret = 2;  // and for each fret that it goes
constexpr int kStretch = 4;   // a finger beside its fret
constexpr int kSkippedString = 1;
constexpr int kOutsideSpan = 100;

class Fretboard {
  public:
    Fretboard(const Instrument& instrument, int reach, const std::optional<FretSpan>& span)
        : instrument_{instrument}, reach_{reach}, span_{span}, last_fret_{last_fret(instrument)} {}

    [[nodiscard]] std::vector<Way> ways_of(int note) const {
        std::vector<Way> out;
        for (std::size_t s = 0; s < instrument_.strings.size(); ++s) {
            const int fret = note - instrument_.strings[s].on_paper().midi();
            if (fret < 0 || fret > last_fret_) continue;
            const bool is_outside = span_ && (fret < span_->low || fret > span_->high);
            const int base = is_outside ? kOutsideSpan : 0;
            if (fret == 0) {
                out.push_back({s, 0, 1, base});
                continue;
            }
            for (int hand = std::max(1, fret - reach_); hand <= fret + 1; ++hand) {
                const bool is_stretched = hand == fret - reach_ || hand == fret + 1;
                out.push_back({s, fret, hand, base + (is_stretched ? kStretch : 0)});
            }
        }
        return out;
    }

    [[nodiscard]] static int move(const Way& from, const Way& to) {
        const int frets = std::abs(to.hand - from.hand);
        const auto strings =
            static_cast<int>(std::max(from.string, to.string) - std::min(from.string, to.string));
        return (frets > 0 ? kShift + kEachFret * frets : 0) + kSkippedString * std::max(0, strings - 1);
    }

  private:
    // Up to the highest note that players use.
    static int last_fret(const Instrument& instrument) {
        int highest = 0;
        for (const WrittenPitch string : instrument.strings)
            highest = std::max(highest, string.on_paper().midi());
        return std::clamp(instrument.full.high.on_paper().midi() - highest, 12, kMostFrets);
    }

    const Instrument& instrument_;
    int reach_;
    std::optional<FretSpan> span_;
    int last_fret_;
};

// The cheapest way to come to each of these from those of the note before.
void connect(const std::vector<Way>& before, std::vector<Way>& ways) {
    for (Way& way : ways) {
        way.total = std::numeric_limits<int>::max();
        for (std::size_t b = 0; b < before.size(); ++b) {
            const int total = before[b].total + Fretboard::move(before[b], way) + way.cost;
            if (total >= way.total) continue;
            way.total = total;
            way.before = b;
        }
        if (before.empty()) way.total = way.cost;
    }
}

}  // namespace

std::vector<FretPlace> places_on_fretboard(const std::vector<int>& notes, const Instrument& instrument,
                                           int reach, const std::optional<FretSpan>& span) {
    const Fretboard fretboard{instrument, reach, span};
    std::vector<std::vector<Way>> steps;  // of the notes that are on the neck
    std::vector<std::size_t> of_note;
    for (std::size_t n = 0; n < notes.size(); ++n) {
        std::vector<Way> ways = fretboard.ways_of(notes[n]);
        if (ways.empty()) continue;
        connect(steps.empty() ? std::vector<Way>{} : steps.back(), ways);
        steps.push_back(std::move(ways));
        of_note.push_back(n);
    }
    std::vector<FretPlace> out(notes.size());
    if (steps.empty()) return out;
    auto at = static_cast<std::size_t>(std::ranges::min_element(steps.back(), {}, &Way::total) -
                                       steps.back().begin());
    for (std::size_t i = steps.size(); i-- > 0;) {
        const Way& way = steps[i][at];
        out[of_note[i]] = {static_cast<int>(instrument.strings.size() - way.string), way.fret};
        at = way.before;
    }
    return out;
}

}  // namespace shedbook
