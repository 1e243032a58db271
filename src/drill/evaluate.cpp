#include "shedbook/drill/evaluate.h"

#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <vector>

namespace shedbook {
namespace {

// Drills are worked out with the tonic here and then moved by octaves.
Pitch reference_tonic(const ScaleLadder& ladder) {
    return Pitch{ladder.scale().tonic, 4};
}

// The notes of a drill before they have lengths: cells, and the note to rest on.
struct Outline {
    std::vector<Pitch> notes;
    std::vector<std::size_t> cell_ends;  // index behind each cell's last note
};

// The note a chromatic half step away, spelled by the letter it leads from (a leading tone below, its mirror
// above).
Pitch half_step(Pitch target, bool above) {
    const Pitch note = above ? target + kMinorSecond : target - kMinorSecond;
    if (std::abs(note.alter()) < 2) return note;
    return note + (note.alter() > 0 ? Interval{1, 0} : Interval{-1, 0});
}

class OutlineMaker {
  public:
    OutlineMaker(const DrillTemplate& drill, const ScaleLadder& ladder, const DrillPlan& plan)
        : drill_{drill}, ladder_{ladder}, plan_{plan}, tonic_{reference_tonic(ladder)} {}

    Outline make() {
        collect_walk();
        for (std::size_t i = 0; i < walk_.size(); ++i) add_cell(i);
        if (drill_.end) {
            const Pitch end = ladder_.pitch(plan_.start_rung + *drill_.end, tonic_);
            // Coming to rest on the note that has just been reached on a beat, it is held, not struck again.
            const bool reached = !out_.notes.empty() && out_.notes.back() == end;
            if (!reached || !is_on_beat(out_.notes.size() - 1)) out_.notes.push_back(end);
        }
        return std::move(out_);
    }

  private:
    struct Station {
        int place;  // steps of the walk above its beginning
        const Cell* cell;
    };

    [[nodiscard]] bool is_on_beat(std::size_t note) const {
        return (Rational{static_cast<std::int64_t>(note)} * (drill_.note / kQuarter)).is_whole();
    }

    [[nodiscard]] int edge(const WalkEdge& edge) const {
        return (edge.from_top ? plan_.steps : 0) + edge.offset;
    }

    void collect_walk() {
        const auto cell_for = [](const std::vector<Cell>& cells, int place) {
            const int count = static_cast<int>(cells.size());
            return &cells[static_cast<std::size_t>(((place % count) + count) % count)];
        };
        for (int p = edge(drill_.rising_from); p <= edge(drill_.rising_to); ++p) {
            walk_.push_back({p, cell_for(drill_.rising, p)});
        }
        for (int p = edge(drill_.falling_from); p >= edge(drill_.falling_to); --p) {
            walk_.push_back({p, cell_for(drill_.falling, p)});
        }
    }

    // The rung that a cell stands on, and the chord tone it is (for a walk over the chord).
    [[nodiscard]] int chord_place(int place) const { return first_chord_tone() + place; }
    [[nodiscard]] int base_rung(int place) const {
        if (drill_.walk == DrillTemplate::Walk::Chord) return ladder_.chord_rung(chord_place(place));
        return plan_.start_rung + place;
    }
    [[nodiscard]] int first_chord_tone() const {
        int k = 0;
        while (ladder_.chord_rung(k) < plan_.start_rung) ++k;
        return k;
    }
    // The chord tone at or above a rung.
    [[nodiscard]] int chord_tone_at(int rung) const {
        int k = (rung < 0 ? rung - ladder_.size() : rung) / ladder_.size() * ladder_.chord_size();
        while (ladder_.chord_rung(k) < rung) ++k;
        return k;
    }

    [[nodiscard]] int rung_of(const CellNote& note, int base) const {
        if (note.kind == CellNote::Kind::ChordTone) {
            return ladder_.chord_rung(chord_tone_at(base) + note.steps) + note.octaves * ladder_.size();
        }
        return base + note.steps + note.octaves * ladder_.size();
    }

    // The first note of the cell after `i`, or the note to rest on.
    [[nodiscard]] int next_rung(std::size_t i) const {
        if (i + 1 < walk_.size()) return rung_of(walk_[i + 1].cell->front(), base_rung(walk_[i + 1].place));
        return plan_.start_rung + drill_.end.value_or(0);
    }

    [[nodiscard]] Pitch neighbour(const CellNote& note, int rung) const {
        const Pitch target = ladder_.pitch(rung, tonic_);
        const bool above = note.side == CellNote::Side::StepAbove || note.side == CellNote::Side::HalfAbove;
        if (note.side == CellNote::Side::HalfAbove || note.side == CellNote::Side::HalfBelow) {
            return half_step(target, above);
        }
        const Pitch step = ladder_.pitch(above ? rung + 1 : rung - 1, tonic_);
        // Over an augmented second the half step is the neighbour: common practice.
        return std::abs(step.midi() - target.midi()) > 2 ? half_step(target, above) : step;
    }

    void add_cell(std::size_t i) {
        const int base = base_rung(walk_[i].place);
        int rung = base;
        for (const CellNote& note : *walk_[i].cell) {
            if (note.kind == CellNote::Kind::Neighbour) {
                const int target =
                    note.of_next ? next_rung(i) : base + note.steps + note.octaves * ladder_.size();
                out_.notes.push_back(neighbour(note, target));
                continue;
            }
            const int to = rung_of(note, base);
            if (note.kind == CellNote::Kind::Run) {
                const int direction = to >= rung ? 1 : -1;
                while (rung + direction != to && rung != to) {
                    rung += direction;
                    out_.notes.push_back(ladder_.pitch(rung, tonic_));
                }
            }
            rung = to;
            out_.notes.push_back(ladder_.pitch(rung, tonic_));
        }
        out_.cell_ends.push_back(out_.notes.size());
    }

    const DrillTemplate& drill_;
    const ScaleLadder& ladder_;
    const DrillPlan& plan_;
    Pitch tonic_;
    std::vector<Station> walk_;
    Outline out_;
};

// Octaves to move notes between `low` and `high` so that they lie in the range, as near its middle as can be.
std::optional<int> octaves_into(PitchRange range, int low, int high) {
    std::optional<int> best;
    int best_distance = 0;
    for (int octaves = -6; octaves <= 6; ++octaves) {
        if (low + 12 * octaves < range.low.midi() || high + 12 * octaves > range.high.midi()) continue;
        const int distance = std::abs(low + high + 24 * octaves - range.low.midi() - range.high.midi());
        if (!best || distance < best_distance) {
            best = octaves;
            best_distance = distance;
        }
    }
    return best;
}

std::optional<int> octaves_into(PitchRange range, const std::vector<Pitch>& notes) {
    const auto [low, high] = std::ranges::minmax(notes, {}, &Pitch::midi);
    return octaves_into(range, low.midi(), high.midi());
}

int notes_a_bar(const DrillTemplate& drill) {
    return static_cast<int>((kDrillBar / drill.note).floor());
}

// Gives the notes their places. What rests, at the end of the line or of a held cell, lasts to the end of its
// bar; if that would be less than a quarter, through the next bar as well.
ConcertLine set_in_time(const DrillTemplate& drill, const Outline& outline) {
    ConcertLine line;
    line.notes.reserve(outline.notes.size());
    const int per_bar = notes_a_bar(drill);
    const int shortest_rest = std::max(1, per_bar / 4);
    int at = 0;
    std::size_t next_end = 0;
    for (std::size_t i = 0; i < outline.notes.size(); ++i) {
        const bool ends_cell = next_end < outline.cell_ends.size() && i + 1 == outline.cell_ends[next_end];
        if (ends_cell) ++next_end;
        int length = 1;
        if (i + 1 == outline.notes.size() || (drill.holds_cells && ends_cell)) {
            length = per_bar - at % per_bar;
            if (length < shortest_rest) length += per_bar;
        }
        line.notes.push_back({outline.notes[i], Position{drill.note.whole_notes * Rational{at}},
                              drill.note * Rational{length}});
        at += length;
    }
    line.length = drill.note * Rational{at};
    return line;
}

// The scale through the whole range: up from the lowest tonic to the top, down to the bottom and back to the
// tonic.
struct RangeWalk {
    Pitch tonic;  // the lowest in range, rung 0
    int bottom = 0;
    int top = 0;
    // Notes before the tonic is reached again.
    [[nodiscard]] int length() const { return 2 * (top - bottom); }
};

std::optional<RangeWalk> range_walk(const ScaleLadder& ladder, PitchRange range) {
    RangeWalk out;
    out.tonic = Pitch{ladder.scale().tonic, -1};
    while (out.tonic.midi() < range.low.midi()) out.tonic = out.tonic + kOctave;
    if (out.tonic.midi() > range.high.midi()) return std::nullopt;
    while (ladder.pitch(out.bottom - 1, out.tonic).midi() >= range.low.midi()) --out.bottom;
    while (ladder.pitch(out.top + 1, out.tonic).midi() <= range.high.midi()) ++out.top;
    if (out.top < 2) return std::nullopt;
    return out;
}

// The tonic at the end wants at least a quarter of its bar.
int bars_for(int notes_before_end, int per_bar) {
    return notes_before_end / per_bar + (notes_before_end % per_bar > per_bar * 3 / 4 ? 2 : 1);
}

std::optional<DrillPlan> plan_range(const DrillTemplate& drill, const ScaleLadder& ladder,
                                    std::span<const PitchRange> ranges) {
    DrillPlan plan;
    for (const PitchRange& range : ranges) {
        const std::optional<RangeWalk> walk = range_walk(ladder, range);
        if (!walk) return std::nullopt;
        plan.bars = std::max(plan.bars, bars_for(walk->length(), notes_a_bar(drill)));
    }
    return plan;
}

ConcertLine evaluate_range(const DrillTemplate& drill, const ScaleLadder& ladder, const DrillPlan& plan,
                           PitchRange range) {
    const RangeWalk walk = *range_walk(ladder, range);
    std::vector<int> rungs;
    int at = 0;
    const auto go_to = [&](int target) {
        while (at != target) {
            rungs.push_back(at);
            at += target > at ? 1 : -1;
        }
    };
    go_to(walk.top);
    go_to(walk.bottom);
    go_to(0);
    // Where bars are left (a shorter range beside a longer one in a class), turn back again: whole rounds
    // first, then as far as brings the tonic into the last bar.
    const int per_bar = notes_a_bar(drill);
    int wanted = (plan.bars - 1) * per_bar;
    if ((wanted - static_cast<int>(rungs.size())) % 2 != 0) ++wanted;
    while (static_cast<int>(rungs.size()) + walk.length() <= wanted) {
        go_to(walk.top);
        go_to(walk.bottom);
        go_to(0);
    }
    const int half = std::max(0, (wanted - static_cast<int>(rungs.size())) / 2);
    go_to(std::min(half, walk.top));
    if (half > walk.top) go_to(walk.top - half);
    go_to(0);
    Outline outline;
    for (const int rung : rungs) outline.notes.push_back(ladder.pitch(rung, walk.tonic));
    outline.notes.push_back(ladder.pitch(0, walk.tonic));
    return set_in_time(drill, outline);
}

std::string ordinal(int degree) {
    static constexpr const char* kOrdinals[] = {"1st", "2nd", "3rd", "4th", "5th",
                                                "6th", "7th", "8th", "9th"};
    return kOrdinals[std::clamp(degree - 1, 0, 8)];
}

// Players count degrees, not notes: the third note of an altered scale is a kind of second still.
int degree_of(const ScaleLadder& ladder, int rung) {
    return ladder.scale().type->intervals()[static_cast<std::size_t>(rung % ladder.size())].steps() + 1;
}

std::string remark_for(const DrillPlan& plan, const ScaleLadder& ladder, int wanted_start, int wanted_steps,
                       bool is_group) {
    std::string out;
    if (plan.start_rung != wanted_start) out = "from the " + ordinal(degree_of(ladder, plan.start_rung));
    if (plan.steps < wanted_steps) out += std::string{out.empty() ? "" : ", "} + "shortened";
    if (out.empty()) return out;
    return out + (is_group ? " to fit every part" : " to stay in range");
}

int wanted_steps(const DrillTemplate& drill, const ScaleLadder& ladder) {
    return drill.octaves * (drill.walk == DrillTemplate::Walk::Chord ? ladder.chord_size() : ladder.size());
}

}  // namespace

std::optional<DrillPlan> plan_drill(const DrillTemplate& drill, const ScaleLadder& ladder,
                                    std::span<const PitchRange> ranges) {
    assert(!ranges.empty());
    if (ladder.size() < drill.fewest_notes) return std::nullopt;
    if (drill.form == DrillTemplate::Form::Range) return plan_range(drill, ladder, ranges);
    const int start = drill.start - 1;
    std::vector<int> starts{start};
    for (int k = 0; k < ladder.chord_size(); ++k) {
        if (ladder.chord_rung(k) != start) starts.push_back(ladder.chord_rung(k));
    }
    const int wanted = wanted_steps(drill, ladder);
    // Shorter than a third of what is meant is not the same drill any more.
    const int fewest = std::max(1, (wanted + 2) / 3);
    for (int steps = wanted; steps >= fewest; --steps) {
        for (const int from : starts) {
            DrillPlan plan;
            plan.start_rung = from;
            plan.steps = steps;
            const Outline outline = OutlineMaker{drill, ladder, plan}.make();
            const bool fits = std::ranges::all_of(
                ranges, [&](PitchRange range) { return octaves_into(range, outline.notes).has_value(); });
            if (!fits || outline.notes.empty()) continue;
            plan.bars = static_cast<int>((set_in_time(drill, outline).length / kDrillBar).floor());
            plan.remark = remark_for(plan, ladder, start, wanted, ranges.size() > 1);
            return plan;
        }
    }
    return std::nullopt;
}

ConcertLine evaluate(const DrillTemplate& drill, const ScaleLadder& ladder, const DrillPlan& plan,
                     PitchRange range) {
    if (drill.form == DrillTemplate::Form::Range) return evaluate_range(drill, ladder, plan, range);
    Outline outline = OutlineMaker{drill, ladder, plan}.make();
    const std::optional<int> octaves = octaves_into(range, outline.notes);
    assert(octaves && "the plan was made for this range");
    for (Pitch& note : outline.notes) note = note + *octaves * kOctave;
    return set_in_time(drill, outline);
}

}  // namespace shedbook
