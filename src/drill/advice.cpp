#include <algorithm>
#include <cstdlib>
#include <numeric>

#include "fit.h"
#include "outline.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/drill/material.h"

namespace shedbook {
namespace {

// The nearest drill that all the ranges hold: of the same family first, then by level.
const DrillTemplate* nearest_that_fits(const DrillTemplate& drill, const ScaleLadder& ladder,
                                       std::span<const PitchRange> ranges,
                                       std::span<const DrillTemplate> library) {
    std::vector<const DrillTemplate*> order;
    for (const DrillTemplate& other : library) {
        // What goes through any range is no answer to a range that is too small.
        const bool other_form = other.form != drill.form && other.form == DrillTemplate::Form::Range;
        if (other.id != drill.id && !other_form) order.push_back(&other);
    }
    std::ranges::stable_sort(order, {}, [&](const DrillTemplate* other) {
        return (other->family == drill.family ? 0 : 10) + std::abs(other->level - drill.level);
    });
    for (const DrillTemplate* other : order) {
        const auto plan = plan_drill(*other, ladder, ranges);
        if (plan && plan->remark.empty()) return other;
    }
    return nullptr;
}

struct Need {
    int more = 0;  // half steps that a range lacks
    PitchRange range;
};

// The range with as much more as these notes ask for, in the octave that asks least.
Need need_of(PitchRange range, Pitch low, Pitch high) {
    std::optional<Need> best;
    for (int octaves = -6; octaves <= 6; ++octaves) {
        const PitchRange notes{low + octaves * kOctave, high + octaves * kOctave};
        const int more = std::max(0, range.low.midi() - notes.low.midi()) +
                         std::max(0, notes.high.midi() - range.high.midi());
        if (best && more >= best->more) continue;
        best = Need{more, {std::min(range.low, notes.low), std::max(range.high, notes.high)}};
    }
    return *best;
}

// What the shortest form that asks least of all ranges together asks of the one that lacks most.
void say_what_it_needs(const DrillTemplate& drill, const ScaleLadder& ladder,
                       std::span<const PitchRange> ranges, DrillAdvice& out) {
    std::optional<int> least;
    for (int k = -1; k < ladder.chord_size(); ++k) {
        DrillPlan plan;
        plan.start_rung = k < 0 ? first_rung(drill, ladder) : ladder.chord_rung(k);
        plan.steps = fewest_steps(drill, ladder);
        const Outline outline =
            outline_of(drill, ladder, plan.start_rung, stations_of(drill, plan), reference_bottom(ladder));
        if (outline.notes.empty()) continue;
        const auto [low, high] = std::ranges::minmax(outline.notes);
        std::vector<Need> needs;
        int total = 0;
        for (const PitchRange& range : ranges) {
            needs.push_back(need_of(range, low, high));
            total += needs.back().more;
        }
        if (least && total >= *least) continue;
        least = total;
        const auto most = std::ranges::max_element(needs, {}, &Need::more);
        out.which = static_cast<std::size_t>(most - needs.begin());
        out.needs = most->range;
    }
}

}  // namespace

DrillAdvice advice_on(const DrillTemplate& drill, const ScaleLadder& ladder,
                      std::span<const PitchRange> ranges, std::span<const DrillTemplate> library) {
    DrillAdvice out;
    out.instead = nearest_that_fits(drill, ladder, ranges, library);
    const std::optional<ScaleLadder> played = ladder_of(drill.material, ladder);
    if (!played) {
        out.why = "no " + drill.material + " is known for this chord and scale";
        return out;
    }
    if (played->size() < drill.fewest_notes) {
        out.why = "it needs " + std::to_string(drill.fewest_notes) + " notes to an octave, and there are " +
                  std::to_string(played->size());
        return out;
    }
    out.why = ranges.size() > 1 ? "even its shortest form does not fit every part"
                                : "the range is too small even for its shortest form";
    if (drill.form == DrillTemplate::Form::Cells) say_what_it_needs(drill, *played, ranges, out);
    return out;
}

}  // namespace shedbook
