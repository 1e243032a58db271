// Days of the calendar, and the ways in which players write a day or a length of time. What day it is comes
// in from outside.
//
//     parse_day("yesterday", today);                           // the day before today
//     parse_minutes("1:20");                                   // 4800: an hour and twenty minutes, in
//     seconds
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace shedbook {

using Day = std::chrono::sys_days;

[[nodiscard]] constexpr int days_between(Day from, Day to) {
    return static_cast<int>((to - from).count());
}
[[nodiscard]] constexpr Day day_after(Day day, int days) {
    return day + std::chrono::days{days};
}

// "2027-01-20".
[[nodiscard]] std::string date_text(Day day);
// "2027-01-20" alone; nothing for a day that no calendar has.
[[nodiscard]] std::optional<Day> parse_date(std::string_view text);
// As a player says it: "today", "yesterday", "3 days ago", "monday" (the last one before today),
// "2027-01-20", "20 jan" (the nearest to today), "20 jan 2027", "jan 20". Case does not count.
[[nodiscard]] std::optional<Day> parse_day(std::string_view text, Day today);
inline constexpr std::string_view kDaysThatAreRead =
    "today, yesterday, 3 days ago, monday, 20 jan, 2027-01-20";
// "Wed 20 Jan", with its year where that is not the one of `today`.
[[nodiscard]] std::string day_in_words(Day day, Day today);

// Seconds of "6", "6.5", "6 min" (minutes), "90 s", "1:20", "1h20", "2 h" (hours and minutes): up to a day.
[[nodiscard]] std::optional<int> parse_minutes(std::string_view text);
inline constexpr std::string_view kMinutesThatAreRead = "6, 6.5, 90s, 1:20 (an hour and twenty)";
// "6 minutes", "1 minute 30", "1 hour 20 minutes".
[[nodiscard]] std::string time_in_words(int seconds);

}  // namespace shedbook
