#include "shedbook/base/time.h"

#include <catch2/catch.hpp>

namespace shedbook {

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};
static_assert(!addable<Position, Position>, "two places in time have no sum");
static_assert(addable<Position, Duration>);

TEST_CASE("a duration moves a position, and two positions are a duration apart", "[base]") {
    const Position bar_two{Rational{1}};
    CHECK(bar_two + kEighth - bar_two == kEighth);
    CHECK(kWhole / kEighth == Rational{8});
}

}  // namespace shedbook
