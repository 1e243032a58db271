#include "fit.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "timing.h"

namespace shedbook {
namespace {

constexpr int kFurthest = 6;  // octaves

bool holds(Compass outer, Compass inner) {
    return outer.low <= inner.low && inner.high <= outer.high;
}

Compass moved(Compass compass, int octaves) {
    return {compass.low + 12 * octaves, compass.high + 12 * octaves};
}

Compass compass_of(PitchRange range) {
    return {range.low.midi(), range.high.midi()};
}

Compass common(Compass a, Compass b) {
    return {std::max(a.low, b.low), std::min(a.high, b.high)};
}

// The windows that all players have together, each reading in an octave of his own: one for every octave of
// the first.
std::vector<Compass> common_windows(std::span<const PitchRange> ranges) {
    std::vector<Compass> out;
    for (int octaves = -kFurthest; octaves <= kFurthest; ++octaves) {
        const Compass first = moved(compass_of(ranges[0]), octaves);
        Compass window = first;
        for (const PitchRange& range : ranges.subspan(1)) {
            Compass best{0, -1};
            for (int o = -kFurthest; o <= kFurthest; ++o) {
                const Compass shared = common(first, moved(compass_of(range), o));
                if (shared.high - shared.low > best.high - best.low) best = shared;
            }
            window = common(window, best);
        }
        out.push_back(window);
    }
    return out;
}

// What a window asks of every cell: nothing, an octave, or to be left out.
std::vector<std::int8_t> moves_into(Compass window, const std::vector<Compass>& cells, bool may_move) {
    std::vector<std::int8_t> out;
    for (const Compass& cell : cells) {
        std::int8_t by = DrillPlan::kLeftOut;
        if (holds(window, cell)) {
            by = 0;
        } else if (may_move && holds(window, moved(cell, -1))) {
            by = -1;
        } else if (may_move && holds(window, moved(cell, 1))) {
            by = 1;
        }
        out.push_back(by);
    }
    return out;
}

}  // namespace

Compass compass_of(std::span<const Pitch> notes) {
    Compass out{notes.front().midi(), notes.front().midi()};
    for (const Pitch note : notes) {
        out.low = std::min(out.low, note.midi());
        out.high = std::max(out.high, note.midi());
    }
    return out;
}

bool fits_in(PitchRange range, Compass compass) {
    // The lowest place that is not below the range.
    const int up = ((compass.low - range.low.midi()) % 12 + 12) % 12;
    const int octaves = (range.low.midi() + up - compass.low) / 12;
    return std::abs(octaves) <= kFurthest &&
           range.low.midi() + up + compass.high - compass.low <= range.high.midi();
}

std::vector<int> positions_in(PitchRange range, Compass compass) {
    std::vector<int> out;
    for (int octaves = -kFurthest; octaves <= kFurthest; ++octaves) {
        if (holds(compass_of(range), moved(compass, octaves))) out.push_back(octaves);
    }
    return out;
}

int best_position(const std::vector<int>& positions, Compass compass, PitchRange wished) {
    const Compass register_ = compass_of(wished);
    // Outside the register weighs more than any distance from its middle.
    const auto cost = [&](int octaves) {
        const Compass at = moved(compass, octaves);
        const int outside = std::max(0, register_.low - at.low) + std::max(0, at.high - register_.high);
        return 1000 * outside + std::abs(at.low + at.high - register_.low - register_.high);
    };
    return *std::ranges::min_element(positions, {}, cost);
}

int first_rung(const DrillTemplate& drill, const ScaleLadder& ladder) {
    return std::min(drill.start, ladder.size()) - 1;
}

int wanted_steps(const DrillTemplate& drill, const ScaleLadder& ladder) {
    const int octave = drill.walk == DrillTemplate::Walk::Chord ? ladder.chord_size() : ladder.size();
    const int steps = drill.octaves * octave;
    return steps - steps % drill.every;
}

int fewest_steps(const DrillTemplate& drill, const ScaleLadder& ladder) {
    return std::max(1, (wanted_steps(drill, ladder) + 2) / 3);
}

std::optional<RangeWalk> range_walk(const DrillTemplate& drill, const ScaleLadder& ladder, PitchRange range) {
    const int start = first_rung(drill, ladder);
    const bool by_chord = drill.walk == DrillTemplate::Walk::Chord;
    const int first_tone = by_chord ? ladder.chord_tone_at(start) : 0;
    const auto rung = [&](int place) {
        return by_chord ? ladder.chord_rung(first_tone + place) : start + place;
    };
    for (Pitch tonic{ladder.notes().front(), -2}; tonic.midi() <= range.high.midi();
         tonic = tonic + kOctave) {
        if (ladder.pitch(rung(0), tonic).midi() < range.low.midi()) continue;
        DrillPlan plan;
        plan.start_rung = start;
        plan.steps = 0;
        while (ladder.pitch(rung(plan.steps + drill.every), tonic).midi() <= range.high.midi())
            plan.steps += drill.every;
        while (ladder.pitch(rung(plan.bottom - drill.every), tonic).midi() >= range.low.midi())
            plan.bottom -= drill.every;
        // The cells reach further than the notes that they stand on: come in until all of it fits.
        while (plan.bottom <= 0 && plan.steps >= 2) {
            std::vector<Station> stations = stations_of(drill, plan);
            Outline outline = outline_of(drill, ladder, start, stations, tonic);
            if (stations.empty()) return std::nullopt;
            const Compass compass = compass_of(outline.notes);
            const bool too_high = compass.high > range.high.midi();
            const bool too_low = compass.low < range.low.midi();
            if (!too_high && !too_low) {
                return RangeWalk{tonic, plan.bottom, plan.steps, std::move(stations), std::move(outline)};
            }
            if (too_high) plan.steps -= drill.every;
            if (too_low) plan.bottom += drill.every;
        }
    }
    return std::nullopt;
}

std::optional<DrillPlan> with_cells_moved(const DrillTemplate& drill, const ScaleLadder& ladder,
                                          std::span<const PitchRange> ranges, DrillPlan plan) {
    const Pitch bottom = reference_bottom(ladder);
    const Outline whole = outline_of(drill, ladder, plan.start_rung, stations_of(drill, plan), bottom);
    std::vector<Compass> cells;
    std::size_t begin = 0;
    for (const std::size_t end : whole.cell_ends) {
        cells.push_back(compass_of(std::span{whole.notes}.subspan(begin, end - begin)));
        begin = end;
    }
    const auto count_out = [](const std::vector<std::int8_t>& moves) {
        return std::ranges::count(moves, DrillPlan::kLeftOut);
    };
    for (const Compass& window : common_windows(ranges)) {
        std::vector<std::int8_t> moves = moves_into(window, cells, drill.ends == DrillTemplate::Ends::Octave);
        if (!plan.moved.empty() && count_out(moves) >= count_out(plan.moved)) continue;
        plan.moved = std::move(moves);
    }
    if (3 * count_out(plan.moved) > static_cast<std::ptrdiff_t>(cells.size())) return std::nullopt;
    const Outline outline = outline_of(drill, ladder, plan.start_rung, stations_of(drill, plan), bottom);
    if (outline.notes.empty()) return std::nullopt;
    const Compass compass = compass_of(outline.notes);
    for (const PitchRange& range : ranges) {
        if (!fits_in(range, compass)) return std::nullopt;
    }
    plan.bars = bars_taken(drill, outline);
    return plan;
}

}  // namespace shedbook
