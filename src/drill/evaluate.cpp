#include "shedbook/drill/evaluate.h"

#include <algorithm>
#include <cassert>
#include <cstdlib>

#include "counting.h"
#include "fit.h"
#include "outline.h"
#include "shedbook/drill/material.h"
#include "timing.h"

namespace shedbook {
namespace {

using Ends = DrillTemplate::Ends;

std::string ordinal(int degree) {
    static constexpr const char* kOrdinals[] = {"1st", "2nd", "3rd", "4th", "5th",
                                                "6th", "7th", "8th", "9th"};
    return kOrdinals[std::clamp(degree - 1, 0, 8)];
}

// Looks for the plan of a drill that goes up and down between two notes.
class Planner {
  public:
    Planner(const DrillTemplate& drill, const ScaleLadder& ladder, std::span<const PitchRange> ranges)
        : drill_{drill}, ladder_{ladder}, ranges_{ranges}, start_{first_rung(drill, ladder)} {
        wanted_ = wanted_steps(drill, ladder);
    }

    std::optional<DrillPlan> find() {
        if (auto plan = attempt(start_, wanted_, 0)) return plan;
        if (drill_.ends == Ends::Turn) {
            if (auto plan = turned()) return plan;
        }
        if (drill_.ends == Ends::Drop || drill_.ends == Ends::Octave) {
            if (auto plan = with_cells_moved(drill_, ladder_, ranges_, full_plan())) {
                const std::string how = drill_.ends == Ends::Drop ? "left out" : "in another octave";
                const auto count = std::ranges::count_if(plan->moved, [](int by) { return by != 0; });
                return finished(std::move(*plan),
                                std::to_string(count) + (count == 1 ? " cell " : " cells ") + how);
            }
        }
        return shortened();
    }

  private:
    [[nodiscard]] DrillPlan full_plan() const {
        DrillPlan plan;
        plan.start_rung = start_;
        plan.steps = wanted_;
        return plan;
    }

    std::optional<DrillPlan> attempt(int from, int top, int bottom) {
        DrillPlan plan;
        plan.start_rung = from;
        plan.steps = top;
        plan.bottom = bottom;
        const Outline outline =
            outline_of(drill_, ladder_, from, stations_of(drill_, plan), reference_bottom(ladder_));
        if (outline.notes.empty()) return std::nullopt;
        const Compass compass = compass_of(outline.notes);
        const bool fits =
            std::ranges::all_of(ranges_, [&](PitchRange range) { return fits_in(range, compass); });
        if (!fits) return std::nullopt;
        plan.bars = bars_taken(drill_, outline);
        plan.remark = drill_.remark;
        return plan;
    }

    // As long as it is meant to be, but turned before its top, and below its beginning instead.
    std::optional<DrillPlan> turned() {
        for (int top = wanted_ - drill_.every; top >= 0; top -= drill_.every) {
            if (auto plan = attempt(start_, top, top - wanted_)) {
                return finished(std::move(*plan), "turned where the range ends");
            }
        }
        return std::nullopt;
    }

    // Begun on another chord tone, or less far up; a drill that keeps its start is first shortened as far as
    // may be. Shorter than a third of what is meant is not the same drill any more.
    std::optional<DrillPlan> shortened() {
        if (drill_.keeps_start) {
            if (auto plan = shortened({start_})) return plan;
        }
        std::vector<int> starts{start_};
        for (int k = 0; k < ladder_.chord_size(); ++k) {
            if (ladder_.chord_rung(k) != start_) starts.push_back(ladder_.chord_rung(k));
        }
        return shortened(starts);
    }
    std::optional<DrillPlan> shortened(const std::vector<int>& starts) {
        for (int steps = wanted_; steps >= fewest_steps(drill_, ladder_); --steps) {
            for (const int from : starts) {
                auto plan = attempt(from, steps, 0);
                if (!plan) continue;
                std::string how;
                if (from != start_) how = "from the " + ordinal(ladder_.degree(from));
                if (steps < wanted_) how += std::string{how.empty() ? "" : ", "} + "shortened";
                return finished(std::move(*plan), how);
            }
        }
        return std::nullopt;
    }

    DrillPlan finished(DrillPlan plan, const std::string& how) {
        plan.remark = drill_.remark + (drill_.remark.empty() ? "" : ", ") + how;
        plan.why = ranges_.size() > 1 ? "to fit every part" : "to stay in range";
        return plan;
    }

    const DrillTemplate& drill_;
    const ScaleLadder& ladder_;
    std::span<const PitchRange> ranges_;
    int start_;
    int wanted_ = 0;
};

std::optional<DrillPlan> plan_through_range(const DrillTemplate& drill, const ScaleLadder& ladder,
                                            std::span<const PitchRange> ranges) {
    DrillPlan plan;
    plan.start_rung = first_rung(drill, ladder);
    plan.remark = drill.remark;
    for (const PitchRange& range : ranges) {
        const std::optional<RangeWalk> walk = range_walk(drill, ladder, range);
        if (!walk) return std::nullopt;
        plan.bars = std::max(plan.bars, bars_taken(drill, walk->outline));
    }
    return plan;
}

// Where bars are left (a shorter range beside a longer one in a class), it turns back again: whole rounds
// first, then as far as brings the end into the last bar.
Outline filled_up(const DrillTemplate& drill, const ScaleLadder& ladder, RangeWalk walk, int bars,
                  PitchRange range) {
    const int start = first_rung(drill, ladder);
    std::vector<Station> stations = walk.stations;
    Outline best = std::move(walk.outline);
    const auto longer = [&](const std::vector<Station>& more) {
        std::vector<Station> all = stations;
        all.insert(all.end(), more.begin(), more.end());
        Outline outline = outline_of(drill, ladder, start, all, walk.bottom_pitch);
        const Compass compass = compass_of(outline.notes);
        const bool fits = range.low.midi() <= compass.low && compass.high <= range.high.midi();
        if (!fits || bars_taken(drill, outline) > bars) return false;
        best = std::move(outline);
        return true;
    };
    while (longer(walk.stations)) stations.insert(stations.end(), walk.stations.begin(), walk.stations.end());
    DrillPlan part;
    part.steps = 0;
    while (part.steps < walk.top && longer(stations_of(drill, part))) ++part.steps;
    while (part.steps == walk.top && part.bottom > walk.bottom && longer(stations_of(drill, part)))
        --part.bottom;
    return best;
}

ConcertLine evaluate_through_range(const DrillTemplate& drill, const ScaleLadder& ladder,
                                   const DrillPlan& plan, PitchRange range) {
    RangeWalk walk = *range_walk(drill, ladder, range);
    const bool is_short = bars_taken(drill, walk.outline) < plan.bars;
    const Outline outline =
        is_short ? filled_up(drill, ladder, std::move(walk), plan.bars, range) : std::move(walk.outline);
    ConcertLine line = set_in_time(drill, outline);
    line.length = drill.meter.bar_length() * Rational{plan.bars};
    return line;
}

}  // namespace

std::optional<DrillPlan> plan_drill(const DrillTemplate& drill, const ScaleLadder& ladder,
                                    std::span<const PitchRange> ranges) {
    assert(!ranges.empty());
    std::optional<ScaleLadder> own;
    if (drill.material != "scale") {
        own = ladder_of(drill.material, ladder);
        if (!own) return std::nullopt;
    }
    const ScaleLadder& played = own ? *own : ladder;
    if (played.size() < drill.fewest_notes) return std::nullopt;
    std::optional<DrillPlan> plan = drill.form == DrillTemplate::Form::Range
                                        ? plan_through_range(drill, played, ranges)
                                        : Planner{drill, played, ranges}.find();
    if (!plan) return plan;
    if (!drill.counts_notes && !Counting{drill, played}.by_degrees())
        plan->remark = "counting scale notes" + (plan->remark.empty() ? "" : ", " + plan->remark);
    plan->ladder = std::move(own);
    return plan;
}

ConcertLine evaluate(const DrillTemplate& drill, const ScaleLadder& ladder, const DrillPlan& plan,
                     PitchRange range, std::optional<int> position) {
    const ScaleLadder& played = plan.ladder ? *plan.ladder : ladder;
    if (drill.form == DrillTemplate::Form::Range) return evaluate_through_range(drill, played, plan, range);
    Outline outline =
        outline_of(drill, played, plan.start_rung, stations_of(drill, plan), reference_bottom(played));
    const std::vector<int> positions = positions_in(range, compass_of(outline.notes));
    assert(!positions.empty() && "the plan was made for this range");
    const int octaves =
        position
            ? positions[static_cast<std::size_t>(std::min(*position, static_cast<int>(positions.size()) - 1))]
            : best_position(positions, compass_of(outline.notes), range);
    for (Pitch& note : outline.notes) note = note + octaves * kOctave;
    ConcertLine line = set_in_time(drill, outline);
    line.length = drill.meter.bar_length() * Rational{plan.bars};
    return line;
}

int octave_positions(const DrillTemplate& drill, const ScaleLadder& ladder, const DrillPlan& plan,
                     PitchRange range) {
    if (drill.form == DrillTemplate::Form::Range) return 1;
    const ScaleLadder& played = plan.ladder ? *plan.ladder : ladder;
    const Outline outline =
        outline_of(drill, played, plan.start_rung, stations_of(drill, plan), reference_bottom(played));
    return static_cast<int>(positions_in(range, compass_of(outline.notes)).size());
}

}  // namespace shedbook
