#include "shedbook/base/enum_table.h"

#include <catch2/catch.hpp>
#include <cstdint>

namespace shedbook {
namespace {

enum class Colour : std::int8_t { Red, Green, Blue };
enum class Side { Left, Right };
struct Holder {
    enum class Shape { Round };
};

struct ColourRow {
    Colour colour;
    int length;
};
constexpr ColourRow kRows[] = {{Colour::Red, 3}, {Colour::Green, 5}, {Colour::Blue, 4}};
constexpr ColourRow kTooFew[] = {{Colour::Red, 3}, {Colour::Green, 5}};
constexpr ColourRow kOutOfOrder[] = {{Colour::Red, 3}, {Colour::Blue, 4}, {Colour::Green, 5}};
constexpr int kCounted[] = {1, 2, 3};

}  // namespace

template <>
inline constexpr Worded<Side> kWords<Side>[] = {{Side::Left, "left"}, {Side::Right, "right"}};

TEST_CASE("the values of an enum are counted, wherever it is declared", "[base]") {
    CHECK(count_of<Colour>() == 3);
    CHECK(count_of<Side>() == 2);
    CHECK(count_of<Holder::Shape>() == 1);
}

TEST_CASE("a table without a row for a value, or out of order, is told from a whole one", "[base]") {
    STATIC_REQUIRE(has_a_row_each(kRows, &ColourRow::colour));
    STATIC_REQUIRE(has_a_row_each<Colour>(kCounted));
    STATIC_REQUIRE_FALSE(has_a_row_each<Side>(kCounted));
    STATIC_REQUIRE_FALSE(has_a_row_each(kTooFew, &ColourRow::colour));
    STATIC_REQUIRE_FALSE(has_a_row_each(kOutOfOrder, &ColourRow::colour));
    CHECK(kRows[row_index(Colour::Blue)].length == 4);
}

TEST_CASE("words and values find each other", "[base]") {
    CHECK(to_word(Side::Right) == "right");
    CHECK(from_word<Side>("left") == Side::Left);
    CHECK_FALSE(from_word<Side>("Left").has_value());
    CHECK(words_of<Side>() == std::vector<std::string>{"left", "right"});
}

}  // namespace shedbook
