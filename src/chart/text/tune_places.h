// Where chords fall in a bar of a text chart: slots of equal length, or a beat written before the chord.
//
// Slots: one symbol has the whole bar, two share a bar of four beats, otherwise each has one beat of the
// meter. As many symbols as there are half beats (thirds of a beat in 6/8, 9/8, 12/8) fill the bar with
// those. Places: "4:" is the fourth beat as the lower number of the meter counts it, "2&:" half a beat after
// the second, "2+1/3:" a third of a beat after it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/chart/chart.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// Nothing if so many symbols do not fit the bar.
[[nodiscard]] std::optional<std::vector<Position>> slot_places(std::size_t count, Duration bar,
                                                               const Meter& meter);
// Beats of the meter that a bar has, a begun one included.
[[nodiscard]] std::int64_t beats_in(Duration bar, const Meter& meter);

// The place that a word begins with, and the length of that prefix with its colon; nothing if it begins with
// none.
struct PlacePrefix {
    Position at;
    std::size_t length = 0;
};
[[nodiscard]] std::optional<PlacePrefix> parse_place(std::string_view word, const Meter& meter);
// "2&:".
[[nodiscard]] std::string place_prefix(Position at, const Meter& meter);

// What stands between two bar lines for these places: indices of chords, or a slash (-1); with a place before
// the chord where slots cannot say it.
struct BarLayout {
    struct Item {
        int chord = -1;
        std::string place = {};
    };
    std::vector<Item> items;
};
// `fills` asks for a slot for each beat even where fewer would do: the length of a pickup is seen so.
[[nodiscard]] BarLayout lay_out_bar(const std::vector<PlacedChord>& chords, Duration bar, const Meter& meter,
                                    bool fills);

}  // namespace shedbook
