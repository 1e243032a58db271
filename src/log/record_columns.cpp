#include "record_columns.h"

#include <array>
#include <charconv>
#include <cstdint>
#include <limits>
#include <optional>
#include <string_view>

#include "shedbook/base/checksum.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

template <class Number>
std::optional<Number> whole(std::string_view text, int base = 10) {
    Number out{};
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), out, base);
    if (fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return out;
}

std::string hex(std::uint64_t number) {
    std::array<char, 16> digits{};
    const auto [end, fault] = std::to_chars(digits.data(), digits.data() + digits.size(), number, 16);
    std::string out{digits.data(), end};
    return std::string(16 - out.size(), '0') + out;
}

std::string number_text(std::optional<int> number) {
    return number ? std::to_string(*number) : "";
}

template <class Number, class Target>
std::string set_number(Target& target, const std::string& text, Number low, Number high) {
    const auto number = whole<Number>(text);
    if (!number || *number < low || *number > high)
        return "a whole number from " + std::to_string(low) + " to " + std::to_string(high);
    target = *number;
    return {};
}

std::string set_if_said(std::optional<int>& target, const std::string& text, int low, int high) {
    if (text.empty()) return {};
    return set_number(target, text, low, high);
}

std::string set_flag(bool& target, const std::string& text) {
    target = text == "1" || text == "true" || text == "yes";
    if (target || text.empty() || text == "0" || text == "false" || text == "no") return {};
    return "1 or 0";
}

template <std::string Entry::*kText>
constexpr RecordColumn entry_text(const char* name) {
    return {name, false, false, [](const Record& r) { return r.entry.*kText; },
            [](Record& r, const std::string& text) {
                r.entry.*kText = text;
                return std::string{};
            }};
}

template <std::string Item::*kText>
constexpr RecordColumn item_text(const char* name) {
    return {name, false, true, [](const Record& r) { return r.entry.item.*kText; },
            [](Record& r, const std::string& text) {
                r.entry.item.*kText = text;
                return text.empty() ? std::string{"an id"} : std::string{};
            }};
}

template <std::optional<int> Entry::*kNumber, int kLow, int kHigh>
constexpr RecordColumn entry_number(const char* name) {
    return {
        name, true, false, [](const Record& r) { return number_text(r.entry.*kNumber); },
        [](Record& r, const std::string& text) { return set_if_said(r.entry.*kNumber, text, kLow, kHigh); }};
}

constexpr int kMostVersions = 1'000'000;
constexpr int kMostSeconds = 24 * 3600;

constexpr std::array<RecordColumn, 21> kColumns{{
    {"uid", false, false, [](const Record& r) { return hex(r.uid); },
     [](Record& r, const std::string& text) -> std::string {
         if (text.empty()) return {};
         const auto number = whole<std::uint64_t>(text, 16);
         r.uid = number.value_or(0);
         return number && *number != 0 ? "" : "up to 16 digits and letters a to f";
     }},
    {"version", true, false, [](const Record& r) { return std::to_string(r.version); },
     [](Record& r, const std::string& text) {
         return text.empty() ? std::string{} : set_number(r.version, text, 1, kMostVersions);
     }},
    {"removed", true, false, [](const Record& r) { return std::string{r.is_removed ? "1" : "0"}; },
     [](Record& r, const std::string& text) { return set_flag(r.is_removed, text); }},
    {"written", true, false, [](const Record& r) { return std::to_string(r.written); },
     [](Record& r, const std::string& text) {
         constexpr std::int64_t kFarAway = 1'000'000'000'000;
         return text.empty() ? std::string{} : set_number(r.written, text, -kFarAway, kFarAway);
     }},
    {"player", false, false, [](const Record& r) { return r.player; },
     [](Record& r, const std::string& text) {
         if (!text.empty()) r.player = text;
         return std::string{};
     }},
    {"day", false, true, [](const Record& r) { return date_text(r.entry.day); },
     [](Record& r, const std::string& text) -> std::string {
         const std::optional<Day> day = parse_date(text);
         if (!day) return "a day as in 2027-01-20";
         r.entry.day = *day;
         return {};
     }},
    {"kind", false, true, [](const Record& r) { return std::string{to_word(r.entry.item.kind)}; },
     [](Record& r, const std::string& text) -> std::string {
         const auto kind = from_word<ItemKind>(text);
         if (!kind) return join(words_of<ItemKind>(), ", ");
         r.entry.item.kind = *kind;
         return {};
     }},
    item_text<&Item::subject>("subject"),
    {"root", true, false,
     [](const Record& r) { return r.entry.item.root == kNoRoot ? "" : std::to_string(r.entry.item.root); },
     [](Record& r, const std::string& text) {
         return text.empty() ? std::string{} : set_number(r.entry.item.root, text, 0, 11);
     }},
    item_text<&Item::work>("work"),
    item_text<&Item::instrument>("instrument"),
    entry_number<&Entry::tempo, kSlowestEntry, kFastestEntry>("tempo"),
    entry_number<&Entry::goal, kSlowestEntry, kFastestEntry>("goal"),
    entry_number<&Entry::right, 0, kMostRepeats>("right"),
    entry_number<&Entry::wrong, 0, kMostRepeats>("wrong"),
    {"from_memory", true, false, [](const Record& r) { return std::string{r.entry.from_memory ? "1" : "0"}; },
     [](Record& r, const std::string& text) { return set_flag(r.entry.from_memory, text); }},
    {"seconds", true, false,
     [](const Record& r) { return r.entry.seconds == 0 ? "" : std::to_string(r.entry.seconds); },
     [](Record& r, const std::string& text) {
         return text.empty() ? std::string{} : set_number(r.entry.seconds, text, 0, kMostSeconds);
     }},
    entry_text<&Entry::note>("note"),
    entry_text<&Entry::typed>("typed"),
    entry_text<&Entry::tune>("tune"),
    entry_text<&Entry::source>("source"),
}};

}  // namespace

std::span<const RecordColumn> record_columns() {
    return kColumns;
}

std::uint64_t uid_from(const Record& record) {
    std::uint64_t sum = kEmptyChecksum;
    for (const RecordColumn& column : kColumns) {
        if (std::string_view{column.name} != "uid") sum = checksum(column.text(record) + '\n', sum);
    }
    return sum == 0 ? 1 : sum;
}

}  // namespace shedbook
