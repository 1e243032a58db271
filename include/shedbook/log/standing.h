// Where a player stands with one item, worked out from all its entries: how well it is known, and when it
// comes back. docs/log.md has the rules; all numbers are common practice, no source.
//
//     Standing s = standing_of(entries);
//     to_word(s.state);                                        // "at tempo"
//     s.due;                                                   // the day on which it comes back
#pragma once

#include <array>
#include <optional>
#include <span>

#include "shedbook/base/enum_table.h"
#include "shedbook/log/entry.h"

namespace shedbook {

// How well an item is known.
enum class Mastery { New, Slow, AtTempo, FromMemory, Fluent };
template <>
inline constexpr Worded<Mastery> kWords<Mastery>[] = {{Mastery::New, "new"},
                                                      {Mastery::Slow, "slow"},
                                                      {Mastery::AtTempo, "at tempo"},
                                                      {Mastery::FromMemory, "from memory"},
                                                      {Mastery::Fluent, "fluent"}};
// What each counts in a share, in per cent.
[[nodiscard]] constexpr int share_of(Mastery state) {
    return 25 * static_cast<int>(state);
}

// How a day went. Unsaid: only that it was practised.
enum class DayResult { Unsaid, Poor, Fair, Good };
template <>
inline constexpr Worded<DayResult> kWords<DayResult>[] = {{DayResult::Unsaid, "unsaid"},
                                                          {DayResult::Poor, "poor"},
                                                          {DayResult::Fair, "fair"},
                                                          {DayResult::Good, "good"}};

// Days after which an item comes back, step by step.
inline constexpr std::array<int, 6> kGaps{1, 3, 7, 14, 30, 60};
inline constexpr int kDaysToBeFluent = 3;

struct Standing {
    Mastery state = Mastery::New;
    int entries = 0;
    Day first;            // day of the first entry; without one these days mean nothing
    Day last;             // of the last
    int days = 0;         // on which it was played
    int step = 0;         // place in kGaps
    Day due;              // comes back
    int goal = 0;         // the last that was said; 0: none
    int clean_tempo = 0;  // the fastest clean one on the last day that had one; 0: none
    int best_tempo = 0;   // the fastest clean one of all
    int memory_days = 0;  // clean from memory at the goal tempo
    DayResult last_result = DayResult::Unsaid;
    friend bool operator==(const Standing&, const Standing&) = default;
};

// Clean: at least four of five times right. Nothing said of right or wrong beside a tempo: clean.
[[nodiscard]] bool is_clean(const Entry& entry);
// Of entries of one day.
[[nodiscard]] DayResult result_of(std::span<const Entry> day);

// `entries` of one item, in the order of their days.
[[nodiscard]] Standing standing_of(std::span<const Entry> entries);

// With a gig ahead of `today`, nothing waits beyond the day before it.
[[nodiscard]] Day due_before_gig(const Standing& standing, Day today, std::optional<Day> gig);

}  // namespace shedbook
