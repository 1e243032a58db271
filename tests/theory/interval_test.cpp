#include "shedbook/theory/interval.h"

#include <catch2/catch.hpp>

namespace shedbook {

// Interval names: Open Music Theory v1, "Intervals" (counting letters inclusively).
TEST_CASE("intervals are called as in theory books", "[theory]") {
    CHECK(interval_name(kMinorThird) == "m3");
    CHECK(interval_name(Interval{3, 6}) == "A4");
    CHECK(interval_name(Interval{4, 6}) == "d5");
    CHECK(interval_name(Interval{6, 9}) == "d7");
    CHECK(interval_name(-kMajorSecond) == "-M2");
    for (int number = 1; number <= 15; ++number) {
        for (int alter = -2; alter <= 1; ++alter) {
            const Interval interval = make_degree(number, alter);
            if (const auto read = parse_interval(interval_name(interval))) CHECK(*read == interval);
            CHECK(parse_degree(degree_name(interval)) == interval);
        }
    }
    CHECK(parse_interval("minor third") == kMinorThird);
    CHECK(parse_interval("whole step") == kMajorSecond);
    CHECK_FALSE(parse_interval("P3"));
    CHECK_FALSE(parse_interval("m16"));
    CHECK(degree_name(*parse_degree("bb7")) == "bb7");
}

}  // namespace shedbook
