#include "shedbook/log/day.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <utility>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::array<std::string_view, 7> kWeekdays{"sunday",   "monday", "tuesday", "wednesday",
                                                    "thursday", "friday", "saturday"};
constexpr std::array<std::string_view, 12> kMonths{"january",   "february", "march",    "april",
                                                   "may",       "june",     "july",     "august",
                                                   "september", "october",  "november", "december"};

// The row that a word of three letters or more is the beginning of.
template <std::size_t kSize>
std::optional<unsigned> row_called(const std::array<std::string_view, kSize>& names, std::string_view word) {
    if (word.size() < 3) return std::nullopt;
    for (unsigned i = 0; i < kSize; ++i) {
        if (names[i].starts_with(word)) return i;
    }
    return std::nullopt;
}

std::optional<int> whole_number(std::string_view text, std::size_t most_digits) {
    if (text.empty() || text.size() > most_digits) return std::nullopt;
    int out = 0;
    for (const char c : text) {
        if (!is_digit(c)) return std::nullopt;
        out = 10 * out + (c - '0');
    }
    return out;
}

std::optional<Day> day_of(int year, unsigned month, unsigned day) {
    const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{month},
                                           std::chrono::day{day}};
    if (!date.ok()) return std::nullopt;
    return Day{date};
}

int year_of(Day day) {
    return static_cast<int>(std::chrono::year_month_day{day}.year());
}

std::vector<std::string> words_in(std::string_view text) {
    std::vector<std::string> out;
    std::string word;
    for (const char c : lower_case(text) + " ") {
        if (c != ' ' && c != ',' && c != '.' && c != '\t') {
            word += c;
        } else if (!word.empty()) {
            out.push_back(std::exchange(word, {}));
        }
    }
    return out;
}

// Of a day without a year, the nearest one.
std::optional<Day> nearest_of(unsigned month, unsigned day, Day today) {
    std::optional<Day> best;
    for (int year = year_of(today) - 1; year <= year_of(today) + 1; ++year) {
        const std::optional<Day> here = day_of(year, month, day);
        if (here && (!best || std::abs(days_between(*here, today)) < std::abs(days_between(*best, today))))
            best = here;
    }
    return best;
}

// "20 jan", "jan 20", "20 jan 2027".
std::optional<Day> by_month(const std::vector<std::string>& words, Day today) {
    if (words.size() != 2 && words.size() != 3) return std::nullopt;
    const bool month_first = !is_digit(words[0].front());
    const auto month = row_called(kMonths, words[month_first ? 0 : 1]);
    const auto day = whole_number(words[month_first ? 1 : 0], 2);
    if (!month || !day) return std::nullopt;
    if (words.size() == 2) return nearest_of(*month + 1, static_cast<unsigned>(*day), today);
    const auto year = whole_number(words[2], 4);
    if (!year || words[2].size() != 4) return std::nullopt;
    return day_of(*year, *month + 1, static_cast<unsigned>(*day));
}

std::optional<Day> days_ago(const std::vector<std::string>& words, Day today) {
    if (words.size() != 3 || words[2] != "ago") return std::nullopt;
    const std::optional<int> count = words[0] == "a" ? 1 : whole_number(words[0], 4);
    if (!count) return std::nullopt;
    if (words[1] == "day" || words[1] == "days") return day_after(today, -*count);
    if (words[1] == "week" || words[1] == "weeks") return day_after(today, -7 * *count);
    return std::nullopt;
}

// The last one before today.
std::optional<Day> by_weekday(std::string_view word, Day today) {
    const auto row = row_called(kWeekdays, word);
    if (!row) return std::nullopt;
    const unsigned now = std::chrono::weekday{today}.c_encoding();
    const unsigned back = (now + 7 - *row) % 7;
    return day_after(today, -static_cast<int>(back == 0 ? 7 : back));
}

std::optional<double> decimal(std::string_view text) {
    if (text.empty() || text.size() > 6 || !is_digit(text.front())) return std::nullopt;
    if (std::ranges::count(text, '.') > 1) return std::nullopt;
    for (const char c : text) {
        if (!is_digit(c) && c != '.') return std::nullopt;
    }
    return std::strtod(std::string{text}.c_str(), nullptr);
}

// "1:20", "1h20".
std::optional<int> hours_and_minutes(std::string_view text, std::size_t at) {
    const auto hours = whole_number(text.substr(0, at), 2);
    std::string_view rest = text.substr(at + 1);
    if (rest.empty() && text[at] == 'h') return hours ? std::optional{*hours * 3600} : std::nullopt;
    const auto minutes = whole_number(rest, 2);
    if (!hours || !minutes || *minutes > 59 || rest.size() != 2) return std::nullopt;
    return *hours * 3600 + *minutes * 60;
}

}  // namespace

std::string date_text(Day day) {
    const std::chrono::year_month_day date{day};
    const auto padded = [](unsigned number) { return (number < 10 ? "0" : "") + std::to_string(number); };
    std::string year = std::to_string(static_cast<int>(date.year()));
    while (year.size() < 4) year.insert(year.begin(), '0');
    return year + "-" + padded(static_cast<unsigned>(date.month())) + "-" +
           padded(static_cast<unsigned>(date.day()));
}

std::optional<Day> parse_date(std::string_view text) {
    const auto parts = split(text, '-');
    if (parts.size() != 3 || parts[0].size() != 4) return std::nullopt;
    const auto year = whole_number(parts[0], 4);
    const auto month = whole_number(parts[1], 2);
    const auto day = whole_number(parts[2], 2);
    if (!year || !month || !day) return std::nullopt;
    return day_of(*year, static_cast<unsigned>(*month), static_cast<unsigned>(*day));
}

std::optional<Day> parse_day(std::string_view text, Day today) {
    std::vector<std::string> words = words_in(text);
    if (words.size() == 2 && words[0] == "last") words.erase(words.begin());
    if (words.empty()) return std::nullopt;
    if (words.size() == 1) {
        if (words[0] == "today" || words[0] == "now") return today;
        if (words[0] == "yesterday") return day_after(today, -1);
        if (words[0] == "tomorrow") return day_after(today, 1);
        if (const auto date = parse_date(words[0])) return date;
        return by_weekday(words[0], today);
    }
    if (const auto ago = days_ago(words, today)) return ago;
    return by_month(words, today);
}

std::string day_in_words(Day day, Day today) {
    const std::chrono::year_month_day date{day};
    const auto short_name = [](std::string_view name) {
        std::string out{name.substr(0, 3)};
        out.front() = static_cast<char>(out.front() - 'a' + 'A');
        return out;
    };
    std::string out = short_name(kWeekdays[std::chrono::weekday{day}.c_encoding()]) + " " +
                      std::to_string(static_cast<unsigned>(date.day())) + " " +
                      short_name(kMonths[static_cast<unsigned>(date.month()) - 1]);
    if (year_of(day) != year_of(today)) out += " " + std::to_string(year_of(day));
    return out;
}

std::optional<int> parse_minutes(std::string_view text) {
    std::string typed;
    for (const char c : lower_case(text)) {
        if (c != ' ') typed += c == ',' ? '.' : c;
    }
    std::optional<int> out;
    if (const std::size_t at = typed.find_first_of(":h"); at != std::string::npos) {
        std::string_view clock{typed};
        if (clock.ends_with("min")) clock.remove_suffix(3);
        out = hours_and_minutes(clock, at);
    } else {
        const std::size_t unit = typed.find_first_not_of("0123456789.");
        const std::string word = unit == std::string::npos ? "" : typed.substr(unit);
        const std::optional<double> number = decimal(std::string_view{typed}.substr(0, unit));
        const bool in_seconds = word == "s" || word == "sec" || word == "seconds";
        const bool in_minutes = word.empty() || word == "m" || word == "min" || word == "minutes" ||
                                word == "minute" || word == "'";
        if (number && in_seconds) out = static_cast<int>(std::lround(*number));
        if (number && in_minutes) out = static_cast<int>(std::lround(*number * 60));
    }
    constexpr int kDayInSeconds = 24 * 3600;
    return out && *out > 0 && *out <= kDayInSeconds ? out : std::nullopt;
}

std::string time_in_words(int seconds) {
    const int hours = seconds / 3600;
    const int minutes = seconds / 60 % 60;
    const auto of = [](int count, const std::string& what) {
        return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
    };
    if (hours > 0) return of(hours, "hour") + (minutes > 0 ? " " + of(minutes, "minute") : "");
    const int rest = seconds % 60;
    if (minutes == 0) return of(rest, "second");
    return of(minutes, "minute") + (rest > 0 ? " " + std::to_string(rest) : "");
}

}  // namespace shedbook
