#include <algorithm>
#include <string>

#include "shedbook/notation/notate.h"
#include "steps.h"

namespace shedbook {
namespace {

int weakest_inside(const MetricGrid& grid, Ticks at, Ticks length) {
    int strongest = 99;
    for (Ticks t = at + 1; t < at + length; ++t) strongest = std::min(strongest, grid.level(t));
    return strongest;
}

// A note may hide a place of the bar only if it begins at a stronger one; beats of one group may be joined;
// and the usual syncopation (a note of twice the grid, centred on a beat) is read without a tie. Common
// practice (Gould, Behind Bars, from memory).
bool note_fits(const MetricGrid& grid, Ticks at, Ticks length, NoteValue value) {
    const int inside = weakest_inside(grid, at, length);
    const int start = grid.level(at);
    if (grid.is_compound() && inside == 1) {
        const Ticks end = at + length;
        return start == 0 && (end == grid.bar() || grid.level(end) <= 1);
    }
    if (inside > start) return true;
    if (inside == start && start == 2) return value.dots == 0;
    const Ticks centre = at + length / 2;
    return inside == start - 1 && inside >= 2 && value.dots == 0 && grid.level(centre) == inside;
}

bool rest_fits(const MetricGrid& grid, Ticks at, Ticks length, NoteValue value) {
    const int inside = weakest_inside(grid, at, length);
    if (inside <= grid.level(at)) return false;
    if (value.dots > 0) return grid.is_compound() && grid.level(at) <= 1 && inside >= 2;
    return inside > 1 || (grid.level(at) == 0 && at + length == grid.bar());
}

}  // namespace

MetricGrid::MetricGrid(const Meter& meter, Ticks ticks_per_quarter)
    : meter_{meter},
      unit_{ticks_per_quarter * 4 / meter.unit},
      beat_{std::min(unit_, ticks_per_quarter)},
      compound_{meter.unit >= 8 && meter.groups.empty() && meter.beats % 3 == 0} {
    levels_.assign(static_cast<std::size_t>(unit_ * meter.beats), 9);
    const auto mark = [&](Ticks step, int level) {
        for (Ticks t = 0; step > 0 && t < bar(); t += step) {
            auto& at = levels_[static_cast<std::size_t>(t)];
            at = std::min(at, static_cast<std::int8_t>(level));
        }
    };
    mark(unit_, 2);
    Ticks finer = unit_;
    for (int level = 3; level <= 6 && finer % 2 == 0; ++level) mark(finer /= 2, level);
    Ticks start = 0;
    for (const int group : meter.grouping()) {
        group_starts_.push_back(start);
        levels_[static_cast<std::size_t>(start)] = 1;
        start += group * unit_;
    }
    levels_[0] = 0;
}

FoundValue value_of(Ticks length, Ticks ticks_per_quarter) {
    const Ticks whole = 4 * ticks_per_quarter;
    for (int log2 = 0; log2 <= kShortestValue; ++log2) {
        const Ticks divisor = Ticks{1} << log2;
        if (whole % divisor != 0) break;
        const Ticks plain = whole / divisor;
        if (plain == length) return {true, {static_cast<std::int8_t>(log2), 0}};
        if (plain % 2 == 0 && plain + plain / 2 == length) return {true, {static_cast<std::int8_t>(log2), 1}};
    }
    return {};
}

NoteValue drawn_value(Ticks length, Ticks ticks_per_quarter) {
    const FoundValue found = value_of(length, ticks_per_quarter);
    if (!found.found) throw_unwritable(length, ticks_per_quarter);
    return found.value;
}

void throw_unwritable(Ticks length, Ticks ticks_per_quarter) {
    const Rational whole{length, std::int64_t{4} * ticks_per_quarter};
    throw UnwritableMusic("no note lasts " + std::to_string(whole.num()) + "/" + std::to_string(whole.den()) +
                          " of a whole note; the shortest is a sixty-fourth, and tuplets divide a beat into "
                          "up to 16");
}

void split_into_values(const MetricGrid& grid, Ticks ticks_per_quarter, Ticks at, Ticks length, bool is_rest,
                       std::vector<Ticks>& pieces) {
    const auto fits = [&](Ticks from, Ticks long_) {
        const FoundValue value = value_of(long_, ticks_per_quarter);
        if (!value.found) return false;
        return is_rest ? rest_fits(grid, from, long_, value.value)
                       : note_fits(grid, from, long_, value.value);
    };
    const int strongest = weakest_inside(grid, at, length);
    if (fits(at, length) || length <= 1 || strongest == 99) {
        pieces.push_back(length);
        return;
    }
    // Cut at the last of the strongest places that leaves a first part of one value; else at the first of
    // them.
    Ticks cut = 0;
    for (Ticks t = at + 1; t < at + length; ++t) {
        if (grid.level(t) != strongest) continue;
        if (cut == 0 || fits(at, t - at)) cut = t;
    }
    split_into_values(grid, ticks_per_quarter, at, cut - at, is_rest, pieces);
    split_into_values(grid, ticks_per_quarter, cut, at + length - cut, is_rest, pieces);
}

NoteValue note_value(Duration beat) {
    NoteValue out;
    Rational length = beat.whole_notes;
    if (length.num() == 3) {
        out.dots = 1;
        length = length * Rational{2, 3};
    }
    out.log2 = 0;
    while (length < Rational{1}) {
        length = length * Rational{2};
        ++out.log2;
    }
    return out;
}

}  // namespace shedbook
