// Tables with a row for each value of an enum, which the compiler refuses when a value has no row.
//
//     enum class Order { Blocked, Mixed };
//     template <> inline constexpr Worded<Order> kWords<Order>[] = {{Order::Blocked, "blocked"},
//                                                                    {Order::Mixed, "mixed"}};
//     from_word<Order>("mixed");                               // Order::Mixed
//     static_assert(has_a_row_each<Order>(kRows));             // of a table of your own
#pragma once

#include <cstddef>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shedbook {

// Whether the enum gives the value a name. The language has no means to ask; g++ and clang print a value
// without a name as a cast, "(shedbook::Order)2".
template <auto kValue>
consteval bool is_enumerator() {
    constexpr std::string_view kText = __PRETTY_FUNCTION__;
    constexpr std::string_view kBefore = "kValue = ";
    constexpr std::string_view kName = kText.substr(kText.find(kBefore) + kBefore.size());
    return !kName.starts_with('(') || kName.starts_with("(anonymous");
}

// How many values an enum names, from 0 on without gaps.
template <class Enum, std::size_t kFrom = 0>
consteval std::size_t count_of() {
    if constexpr (is_enumerator<static_cast<Enum>(kFrom)>()) {
        return count_of<Enum, kFrom + 1>();
    } else {
        return kFrom;
    }
}

template <class Enum>
constexpr std::size_t row_index(Enum value) {
    return static_cast<std::size_t>(value);
}

// Whether the table has a row for each value, in their order: then row_index finds the row. A table without
// the values in it is only counted.
template <class Enum, class Table>
consteval bool has_a_row_each(const Table& table) {
    return std::size(table) == count_of<Enum>();
}
template <class Enum, class Table, class Row>
consteval bool has_a_row_each(const Table& table, Enum Row::*value) {
    std::size_t at = 0;
    for (const auto& row : table) {
        if (row_index(row.*value) != at++) return false;
    }
    return at == count_of<Enum>();
}

template <class Enum>
struct Worded {
    Enum value;
    std::string_view word;
};

// The words of an enum, as templates and options have them: specialised beside each enum that has some.
template <class Enum>
inline constexpr int kWords = 0;

template <class Enum>
consteval void check_words() {
    static_assert(has_a_row_each<Enum>(kWords<Enum>, &Worded<Enum>::value), "a value has no word");
}

template <class Enum>
constexpr std::string_view to_word(Enum value) {
    check_words<Enum>();
    return kWords<Enum>[row_index(value)].word;
}

template <class Enum>
constexpr std::optional<Enum> from_word(std::string_view word) {
    check_words<Enum>();
    for (const Worded<Enum>& row : kWords<Enum>) {
        if (row.word == word) return row.value;
    }
    return std::nullopt;
}

// All of them, for messages.
template <class Enum>
std::vector<std::string> words_of() {
    check_words<Enum>();
    std::vector<std::string> out;
    for (const Worded<Enum>& row : kWords<Enum>) out.emplace_back(row.word);
    return out;
}

}  // namespace shedbook
