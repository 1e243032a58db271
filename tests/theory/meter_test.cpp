#include "shedbook/theory/meter.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("meters are read as they are written and know their bar", "[theory]") {
    CHECK(parse_meter("6/8")->bar_length() == Duration{Rational{3, 4}});
    CHECK(parse_meter("6/8")->beat_length() == Duration{Rational{3, 8}});
    CHECK(parse_meter("3/8")->beat_length() == kEighth);
    CHECK(parse_meter("C|") == Meter{2, 2});
    CHECK(parse_meter("5/4")->grouping() == std::vector<int>{3, 2});
    CHECK(parse_meter("2+3/4")->grouping() == std::vector<int>{2, 3});
    CHECK(parse_meter("7/8")->grouping() == std::vector<int>{2, 2, 3});
    CHECK(parse_meter("4/4")->grouping() == std::vector<int>{2, 2});
    CHECK(to_string(*parse_meter("3+2/8")) == "3+2/8");
    for (const char* text : {"", "4", "4/3", "0/4", "4/0", "65/4", "a/4", "4/4/4", "60+60/4", "-3/4"}) {
        INFO(text);
        CHECK_FALSE(parse_meter(text));
    }
}

}  // namespace shedbook
