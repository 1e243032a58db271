#include "shedbook/drill/pattern.h"

#include <catch2/catch.hpp>

namespace shedbook {

namespace {

CellNote degree(int steps, int octaves = 0) {
    CellNote out;
    out.steps = steps;
    out.octaves = octaves;
    return out;
}

}  // namespace

TEST_CASE("an inversion lifts the lowest notes by an octave, one after the other", "[drill]") {
    const DrillCell triad{degree(0), degree(2), degree(4)};
    CHECK(inverted(triad, 0) == triad);
    CHECK(inverted(triad, 1) == DrillCell{degree(2), degree(4), degree(0, 1)});
    CHECK(inverted(triad, 2) == DrillCell{degree(4), degree(0, 1), degree(2, 1)});
    const DrillCell falling{degree(4), degree(2), degree(0)};
    CHECK(inverted(falling, 1) == DrillCell{degree(0, 1), degree(4), degree(2)});
}

TEST_CASE("a tuplet is what no halving of a whole note gives", "[drill]") {
    for (const Rational part : {Rational{1}, Rational{1, 8}, Rational{3, 8}, Rational{1, 32}}) {
        INFO(to_string(part));
        CHECK_FALSE(is_tuplet(Duration{part}));
    }
    for (const Rational part : {Rational{1, 12}, Rational{1, 6}, Rational{1, 20}}) {
        INFO(to_string(part));
        CHECK(is_tuplet(Duration{part}));
    }
    CHECK(has_tuplets({{kEighth}, {Duration{Rational{1, 12}}}}));
    CHECK_FALSE(has_tuplets({{kEighth}, {kQuarter, true}}));
}

}  // namespace shedbook
