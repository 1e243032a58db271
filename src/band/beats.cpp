#include "shedbook/band/beats.h"

#include <algorithm>
#include <array>

namespace shedbook {
namespace {

Position place(std::int64_t num, std::int64_t den) {
    return Position{Rational{num, den}};
}

// All multiples of a length in the bar.
std::vector<Position> every(Duration step, const Meter& meter) {
    std::vector<Position> out;
    for (Position at; at - Position{} < meter.bar_length(); at += step) out.push_back(at);
    return out;
}

// Meters that count eighths and smaller in unequal groups are felt by the groups.
bool is_felt_in_groups(const Meter& meter) {
    return meter.unit >= 8 && !meter.is_compound();
}

std::vector<Position> beats(const Meter& meter) {
    return is_felt_in_groups(meter) ? group_places(meter) : every(meter.beat_length(), meter);
}

bool is_plain(const Meter& meter, int count, int unit) {
    return meter.beats == count && meter.unit == unit;
}

// Cut time is counted off as the four quarters that it is written in.
bool is_four_quarters(const Meter& meter) {
    return is_plain(meter, 4, 4) || is_plain(meter, 2, 2);
}

// What a straight bass plays in a group of beats: a long note and a short one before the next beat, as in
// the root and fifth of a bossa nova, or rock in four. In eighths from the start of the group; a group of
// another length has a note a beat. Common practice, no source.
struct StraightFigure {
    int eighths;  // of the group
    bool is_compound;
    std::array<int, 4> places;  // unused: -1
};
constexpr StraightFigure kStraightFigures[] = {
    {4, false, {0, 3, -1, -1}},  // two quarters, or a half: 4/4 and 2/2 have two of these
    {6, false, {0, 3, 4, -1}},   // three quarters: 3/4, the longer half of 5/4
    {8, false, {0, 3, 4, 7}},    // four quarters: 7/4 as 4+3
    {3, true, {0, 2, -1, -1}},   // a dotted quarter: 6/8 has two
};

const StraightFigure* straight_figure(Duration group, bool is_compound) {
    for (const StraightFigure& row : kStraightFigures) {
        if (row.is_compound == is_compound && kEighth * Rational{row.eighths} == group) return &row;
    }
    return nullptr;
}

std::vector<Position> straight_places(const Meter& meter) {
    const std::vector<Position> all = beats(meter);
    std::vector<Position> starts = group_places(meter);
    starts.push_back(Position{} + meter.bar_length());
    std::vector<Position> out;
    for (std::size_t i = 0; i + 1 < starts.size(); ++i) {
        if (const StraightFigure* row = straight_figure(starts[i + 1] - starts[i], meter.is_compound())) {
            for (const int at : row->places) {
                if (at >= 0) out.push_back(starts[i] + kEighth * Rational{at});
            }
            continue;
        }
        for (const Position at : all) {
            if (at >= starts[i] && at < starts[i + 1]) out.push_back(at);
        }
    }
    return out;
}

bool holds(const std::vector<Position>& places, Position at) {
    return std::ranges::find(places, at) != places.end();
}

}  // namespace

std::vector<Position> group_places(const Meter& meter) {
    if (meter.is_compound()) return every(meter.beat_length(), meter);
    std::vector<Position> out;
    Position at;
    for (const int group : meter.grouping()) {
        out.push_back(at);
        at += meter.unit_length() * Rational{group};
    }
    return out;
}

std::vector<CountInClick> count_in(const Meter& meter, bool in_triplets) {
    std::vector<Position> first = group_places(meter);
    std::vector<Position> second = beats(meter);
    std::vector<Position> between;
    if (is_four_quarters(meter)) {
        first = {place(0, 1), place(1, 2)};
        second = every(kQuarter, meter);
    }
    if (!meter.is_compound() && in_triplets && meter.unit == 4) {
        between = every(kQuarter * Rational{1, 3}, meter);
    } else if (meter.is_compound() || is_felt_in_groups(meter)) {
        between = every(meter.unit_length(), meter);
    }
    std::vector<CountInClick> out;
    out.reserve(first.size() + second.size() + between.size());
    for (const Position at : first) out.push_back({at, at == Position{} ? Stress::Downbeat : Stress::Beat});
    for (const Position at : second)
        out.push_back({at + meter.bar_length(), at == Position{} ? Stress::Downbeat : Stress::Beat});
    for (const Position at : between) {
        if (!holds(second, at)) out.push_back({at + meter.bar_length(), Stress::Between});
    }
    std::ranges::sort(out, {}, &CountInClick::at);
    return out;
}

std::vector<Position> click_places(const Meter& meter, Clicks clicks) {
    if (clicks == Clicks::None) return {};
    std::vector<Position> all = beats(meter);
    if (clicks == Clicks::EveryBeat) return all;
    std::vector<Position> groups = group_places(meter);
    if (clicks == Clicks::TwoAndFour) {
        if (is_plain(meter, 4, 4)) return {place(1, 4), place(3, 4)};
        // Two beats a bar: the second one, as in a march.
        if (meter.beats == 2) return {all.back()};
        return groups;
    }
    std::vector<Position> out;
    for (const Position at : all) {
        const bool is_strong = meter.is_compound() ? at == Position{} : holds(groups, at);
        if (!is_strong || (groups.size() == all.size() && at != Position{})) out.push_back(at);
    }
    return out;
}

std::vector<Position> bass_places(const Meter& meter, BassFeel feel) {
    return feel == BassFeel::Straight ? straight_places(meter) : beats(meter);
}

std::vector<Position> placed_in(const BandBar& bar, const std::vector<Position>& places) {
    const Duration missing = std::max(Duration{}, bar.meter.bar_length() - bar.length);
    std::vector<Position> out;
    for (const Position at : places) {
        if (at - Position{} < missing) continue;
        const Position from_start = at - missing;
        if (from_start - Position{} < bar.length) out.push_back(bar.at + (from_start - Position{}));
    }
    return out;
}

}  // namespace shedbook
