#include "shedbook/base/rational.h"

#include <catch2/catch.hpp>
#include <cstdint>

namespace shedbook {

TEST_CASE("fractions are exact, in lowest terms, with a positive denominator", "[base]") {
    const Rational third{1, 3};
    CHECK(third + third + third == Rational{1});
    CHECK(to_string(Rational{6, 4}) == "3/2");
    CHECK(to_string(Rational{-6, -4}) == "3/2");
    CHECK(to_string(Rational{1, -4}) == "-1/4");
    CHECK(Rational{2, 3} * Rational{3, 4} == Rational{1, 2});
    CHECK(Rational{2, 3} / Rational{4, 3} == Rational{1, 2});
    CHECK(Rational{1, 3} < Rational{1, 2});
    CHECK(Rational{-1, 2}.floor() == -1);
    CHECK(Rational{7, 2}.floor() == 3);
    CHECK(Rational{-4}.floor() == -4);
    CHECK(Rational{-INT64_MAX, 2}.floor() == -INT64_MAX / 2 - 1);
    CHECK(Rational{-INT64_MAX, INT64_MAX - 1}.floor() == -2);
}

TEST_CASE("a fraction that does not fit is refused, not wrong", "[base]") {
    CHECK_THROWS_AS((Rational{1, 0}), std::overflow_error);
    CHECK_THROWS_AS(Rational{INT64_MAX} + Rational{1}, std::overflow_error);
    CHECK_THROWS_AS(Rational{1} / Rational{0}, std::overflow_error);
    CHECK_THROWS_AS((Rational{1, INT64_MAX} * Rational{1, 3}), std::overflow_error);
}

}  // namespace shedbook
