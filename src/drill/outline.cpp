#include "outline.h"

#include <algorithm>
#include <cstdlib>

#include "counting.h"

namespace shedbook {
namespace {

using Order = DrillTemplate::Order;

const DrillCell* cell_for(const std::vector<DrillCell>& cells, int place) {
    const int count = static_cast<int>(cells.size());
    return &cells[static_cast<std::size_t>(((place % count) + count) % count)];
}

// The note at a distance from a target, spelled by the letter it leads from (a leading tone below, its mirror
// above); a double accidental gives way to the plain name.
Pitch beside(Pitch target, Interval distance) {
    const Pitch note = target + distance;
    if (std::abs(note.alter()) < 2) return note;
    return note + (note.alter() > 0 ? Interval{1, 0} : Interval{-1, 0});
}

class OutlineMaker {
  public:
    OutlineMaker(const DrillTemplate& drill, const ScaleLadder& ladder, int start_rung,
                 const std::vector<Station>& stations, Pitch bottom)
        : drill_{drill},
          ladder_{ladder},
          start_rung_{start_rung},
          stations_{stations},
          bottom_{bottom},
          counting_{drill, ladder} {
        if (drill.walk == DrillTemplate::Walk::Chord) first_chord_tone_ = ladder.chord_tone_at(start_rung);
    }

    Outline make() {
        std::size_t most = 1;
        for (const Station& station : stations_) most += station.cell->size();
        out_.notes.reserve(most);
        out_.cell_ends.reserve(stations_.size());
        for (std::size_t i = 0; i < stations_.size(); ++i) add_cell(i);
        if (drill_.end) {
            push(rung_of(*drill_.end, start_rung_, false));
            out_.has_end = true;
        }
        name_falling_notes();
        return std::move(out_);
    }

  private:
    // The rung that a cell stands on.
    [[nodiscard]] int base_rung(const Station& station) const {
        const int octaves = station.octaves * ladder_.size();
        if (drill_.walk == DrillTemplate::Walk::Chord) {
            return ladder_.chord_rung(first_chord_tone_ + station.place) + octaves;
        }
        return start_rung_ + station.place + octaves;
    }

    [[nodiscard]] int rung_of(const CellNote& note, int base, bool of_chord) const {
        const bool by_chord =
            note.kind == CellNote::Kind::ChordTone ||
            (note.kind == CellNote::Kind::Neighbour && note.target == CellNote::Target::ChordTone);
        const int octaves = note.octaves * ladder_.size();
        if (by_chord) return ladder_.chord_rung(ladder_.chord_tone_at(base) + note.steps) + octaves;
        return counting_.rung(base, note.steps, of_chord) + octaves;
    }

    // The first note of the cell after `i`, or the note to rest on.
    [[nodiscard]] int next_rung(std::size_t i) const {
        if (i + 1 < stations_.size()) {
            const int base = base_rung(stations_[i + 1]);
            const DrillCell& cell = counting_.over(base, *stations_[i + 1].cell);
            return rung_of(cell.front(), base, speaks_of_chord(cell));
        }
        return rung_of(drill_.end.value_or(CellNote{}), start_rung_, false);
    }

    [[nodiscard]] Pitch neighbour(CellNote::Side side, int rung) const {
        using Side = CellNote::Side;
        const Pitch target = ladder_.pitch(rung, bottom_);
        const bool above = side == Side::StepAbove || side == Side::HalfAbove || side == Side::WholeAbove;
        const int sign = above ? 1 : -1;
        if (side == Side::HalfAbove || side == Side::HalfBelow) return beside(target, sign * kMinorSecond);
        if (side == Side::WholeAbove || side == Side::WholeBelow) return beside(target, sign * kMajorSecond);
        const Pitch step = ladder_.pitch(rung + sign, bottom_);
        // Over an augmented second the half step is the neighbour: common practice.
        return std::abs(step.midi() - target.midi()) > 2 ? beside(target, sign * kMinorSecond) : step;
    }

    void push(int rung) {
        out_.notes.push_back(ladder_.pitch(rung, bottom_));
        if (ladder_.has_falling_names()) rungs_.emplace_back(rung);
    }

    void add_cell(std::size_t i) {
        const int base = base_rung(stations_[i]);
        int rung = base;
        const DrillCell& cell = counting_.over(base, *stations_[i].cell);
        const bool of_chord = speaks_of_chord(cell);
        for (const CellNote& note : cell) {
            if (note.kind == CellNote::Kind::Neighbour) {
                const int target =
                    note.target == CellNote::Target::Next ? next_rung(i) : rung_of(note, base, of_chord);
                out_.notes.push_back(neighbour(note.side, target));
                if (ladder_.has_falling_names()) rungs_.emplace_back(std::nullopt);
                continue;
            }
            const int to = rung_of(note, base, of_chord);
            if (note.kind == CellNote::Kind::Run) {
                const int direction = to >= rung ? 1 : -1;
                while (rung + direction != to && rung != to) push(rung += direction);
            }
            push(rung = to);
        }
        out_.cell_ends.push_back(out_.notes.size());
    }

    // Some notes have another name on the way down: b5 for #4.
    void name_falling_notes() {
        for (std::size_t i = 0; i + 1 < rungs_.size(); ++i) {
            if (!rungs_[i] || out_.notes[i + 1].midi() >= out_.notes[i].midi()) continue;
            out_.notes[i] = ladder_.falling_pitch(*rungs_[i], bottom_);
        }
    }

    const DrillTemplate& drill_;
    const ScaleLadder& ladder_;
    int start_rung_;
    const std::vector<Station>& stations_;
    Pitch bottom_;
    Counting counting_;
    int first_chord_tone_ = 0;
    Outline out_;
    std::vector<std::optional<int>> rungs_;  // of the notes where names fall; none for a neighbour
};

// The walk of a drill between the lowest and the highest place of a plan.
class Walk {
  public:
    Walk(const DrillTemplate& drill, const DrillPlan& plan) : drill_{drill}, plan_{plan} {}

    std::vector<Station> take() {
        const bool turns_low = plan_.bottom < 0;
        if (drill_.order == Order::Down || drill_.order == Order::DownUp) {
            fall(edge(drill_.falling_from), edge(drill_.falling_to));
            if (drill_.order == Order::Down) return std::move(out_);
            turn();
            rise(edge(drill_.rising_from), edge(drill_.rising_to));
            return std::move(out_);
        }
        rise(turns_low && !drill_.rising_from.from_top ? drill_.rising_from.offset : edge(drill_.rising_from),
             edge(drill_.rising_to));
        if (drill_.order == Order::Up) return std::move(out_);
        turn();
        fall(edge(drill_.falling_from), edge(drill_.falling_to));
        // From below the start home to it.
        if (turns_low) rise(plan_.bottom + (drill_.falling_to.offset > 0 ? 0 : 1), -1);
        return std::move(out_);
    }

  private:
    [[nodiscard]] int edge(const WalkEdge& edge) const {
        return (edge.from_top ? plan_.steps : plan_.bottom) + edge.offset;
    }
    void rise(int from, int to) {
        for (int p = from; p <= to; p += drill_.every) out_.push_back({p, rising(p)});
    }
    void fall(int from, int to) {
        for (int p = from; p >= to; p -= drill_.every) {
            out_.push_back({p, cell_for(drill_.falling, p / drill_.every)});
        }
    }
    void turn() {
        if (!drill_.turn.empty() && !out_.empty()) out_.push_back({out_.back().place, &drill_.turn});
    }
    [[nodiscard]] const DrillCell* rising(int place) const {
        return cell_for(drill_.rising, place / drill_.every);
    }

    const DrillTemplate& drill_;
    const DrillPlan& plan_;
    std::vector<Station> out_;
};

}  // namespace

Pitch reference_bottom(const ScaleLadder& ladder) {
    return Pitch{ladder.notes().front(), 4};
}

std::vector<Station> stations_of(const DrillTemplate& drill, const DrillPlan& plan) {
    std::vector<Station> all = Walk{drill, plan}.take();
    if (plan.moved.empty()) return all;
    std::vector<Station> out;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (plan.moved[i] == DrillPlan::kLeftOut) continue;
        all[i].octaves = plan.moved[i];
        out.push_back(all[i]);
    }
    return out;
}

Outline outline_of(const DrillTemplate& drill, const ScaleLadder& ladder, int start_rung,
                   const std::vector<Station>& stations, Pitch bottom) {
    return OutlineMaker{drill, ladder, start_rung, stations, bottom}.make();
}

}  // namespace shedbook
