// Where in a bar things sound, by its meter: the count-in, clicks, the bass's beats.
// Places are written ones; swing comes later.
//
//     click_places(Meter{4, 4}, Clicks::TwoAndFour);           // at 1/4 and 3/4
#pragma once

#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/base/enum_table.h"

namespace shedbook {

enum class Clicks {
    None,
    TwoAndFour,  // and what stands for it in other meters: 1 in 3/4, the groups in 5/4, 1 and 4 in 6/8
    WeakBeats,   // 2 and 3 in 3/4, 2 3 5 in 5/4
    EveryBeat,
};
template <>
inline constexpr Worded<Clicks> kWords<Clicks>[] = {{Clicks::None, "none"},
                                                    {Clicks::TwoAndFour, "2-and-4"},
                                                    {Clicks::WeakBeats, "weak-beats"},
                                                    {Clicks::EveryBeat, "every-beat"}};

enum class Stress { Downbeat, Beat, Between };
struct CountInClick {
    Position at;  // from the start of the first of two bars
    Stress stress = Stress::Beat;
    friend bool operator==(const CountInClick&, const CountInClick&) = default;
};

// Two bars: few clicks, then all of them. Between the beats they are softer.
[[nodiscard]] std::vector<CountInClick> count_in(const Meter& meter, bool in_triplets = false);

// All of these from the start of a full bar.
[[nodiscard]] std::vector<Position> click_places(const Meter& meter, Clicks clicks);
[[nodiscard]] std::vector<Position> bass_places(const Meter& meter, BassFeel feel);
// The first beat of each group of the bar: 1 and 3 in 4/4, 1 and 4 in 5/4 as 3+2.
[[nodiscard]] std::vector<Position> group_places(const Meter& meter);

// The places that lie in this bar, from the start of the music: a pickup has those of the end of its meter.
[[nodiscard]] std::vector<Position> placed_in(const BandBar& bar, const std::vector<Position>& places);

}  // namespace shedbook
