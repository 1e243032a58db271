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
        if (other.id != drill.id) order.push_back(&other);
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

int missing(PitchRange range, Compass compass) {
    return std::max(0, range.low.midi() - compass.low) + std::max(0, compass.high - range.high.midi());
}

// The range with as much more as the shortest form of the drill asks for.
std::optional<PitchRange> wider(const DrillTemplate& drill, const ScaleLadder& ladder, PitchRange range) {
    std::optional<PitchRange> best;
    int least = 0;
    for (int k = -1; k < ladder.chord_size(); ++k) {
        DrillPlan plan;
        plan.start_rung = k < 0 ? first_rung(drill, ladder) : ladder.chord_rung(k);
        plan.steps = fewest_steps(drill, ladder);
        const Outline outline =
            outline_of(drill, ladder, plan.start_rung, stations_of(drill, plan), reference_bottom(ladder));
        if (outline.notes.empty()) continue;
        for (int octaves = -6; octaves <= 6; ++octaves) {
            const auto [low, high] = std::ranges::minmax(outline.notes);
            const PitchRange notes{low + octaves * kOctave, high + octaves * kOctave};
            const int more = missing(range, {notes.low.midi(), notes.high.midi()});
            if (best && more >= least) continue;
            least = more;
            best = PitchRange{std::min(range.low, notes.low), std::max(range.high, notes.high)};
        }
    }
    return best;
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
    for (std::size_t i = 0; i < ranges.size(); ++i) {
        if (plan_drill(drill, ladder, ranges.subspan(i, 1))) continue;
        out.which = i;
        if (drill.form == DrillTemplate::Form::Cells) out.needs = wider(drill, *played, ranges[i]);
        out.why = "the range is too small even for its shortest form";
        return out;
    }
    out.why = "no form of it fits every part at once";
    return out;
}

}  // namespace shedbook
