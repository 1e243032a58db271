#include "shedbook/theory/interval.h"

#include <array>
#include <cstdlib>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr int kLargestNumber = 15;  // two octaves: no degree or interval of the trade is wider

// A number of one or two digits that ends the text.
std::optional<int> parse_number(std::string_view text) {
    if (text.empty() || text.size() > 2) return std::nullopt;
    int number = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        number = 10 * number + (c - '0');
    }
    if (number < 1 || number > kLargestNumber) return std::nullopt;
    return number;
}

bool is_perfect(int number) {
    const int simple = (number - 1) % 7;
    return simple == 0 || simple == 3 || simple == 4;
}

std::string quality_name(int number, int alter) {
    if (is_perfect(number)) {
        if (alter == 0) return "P";
        return std::string(static_cast<std::size_t>(std::abs(alter)), alter > 0 ? 'A' : 'd');
    }
    if (alter == 0) return "M";
    if (alter == -1) return "m";
    if (alter > 0) return std::string(static_cast<std::size_t>(alter), 'A');
    return std::string(static_cast<std::size_t>(-alter - 1), 'd');
}

constexpr std::array<std::pair<std::string_view, Interval>, 24> kIntervalWords{{
    {"half-step", {1, 1}},      {"semitone", {1, 1}},
    {"whole-step", {1, 2}},     {"whole-tone", {1, 2}},
    {"tone", {1, 2}},           {"minor-second", {1, 1}},
    {"major-second", {1, 2}},   {"minor-third", {2, 3}},
    {"major-third", {2, 4}},    {"fourth", {3, 5}},
    {"perfect-fourth", {3, 5}}, {"augmented-fourth", {3, 6}},
    {"tritone", {3, 6}},        {"diminished-fifth", {4, 6}},
    {"fifth", {4, 7}},          {"perfect-fifth", {4, 7}},
    {"minor-sixth", {5, 8}},    {"major-sixth", {5, 9}},
    {"minor-seventh", {6, 10}}, {"major-seventh", {6, 11}},
    {"octave", {7, 12}},        {"perfect-octave", {7, 12}},
    {"second", {1, 2}},         {"augmented-second", {1, 3}},
}};

std::optional<int> quality_alter(std::string_view quality, int number) {
    const bool perfect = is_perfect(number);
    if (quality == "P" && perfect) return 0;
    if (quality == "M" && !perfect) return 0;
    if (quality == "m" && !perfect) return -1;
    if (quality == "A") return 1;
    if (quality == "d") return perfect ? -1 : -2;
    return std::nullopt;
}

}  // namespace

std::string degree_name(Interval interval) {
    const int alter = interval.alter();
    std::string out(static_cast<std::size_t>(std::abs(alter)), alter > 0 ? '#' : 'b');
    return out + std::to_string(interval.steps() + 1);
}

std::optional<Interval> parse_degree(std::string_view text) {
    int alter = 0;
    while (!text.empty() && (text.front() == 'b' || text.front() == '#') && std::abs(alter) < 2) {
        alter += text.front() == '#' ? 1 : -1;
        text.remove_prefix(1);
    }
    const std::optional<int> number = parse_number(text);
    if (!number) return std::nullopt;
    return make_degree(*number, alter);
}

std::string interval_name(Interval interval) {
    if (interval.steps() < 0 || (interval.steps() == 0 && interval.semitones() < 0)) {
        return "-" + interval_name(-interval);
    }
    const int number = interval.steps() + 1;
    return quality_name(number, interval.alter()) + std::to_string(number);
}

std::optional<Interval> parse_interval(std::string_view text) {
    text = trimmed(text);
    const std::string words = slug(text);
    for (const auto& [word, interval] : kIntervalWords) {
        if (words == word) return interval;
    }
    if (text.size() < 2) return std::nullopt;
    const std::optional<int> number = parse_number(text.substr(1));
    if (!number) return std::nullopt;
    const std::optional<int> alter = quality_alter(text.substr(0, 1), *number);
    if (!alter) return std::nullopt;
    return make_degree(*number, *alter);
}

}  // namespace shedbook
