#include "shedbook/drill/pattern.h"

#include <catch2/catch.hpp>

#include "shedbook/drill/drill_template.h"

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

TEST_CASE("a rhythm has lengths from a thirty-second to two whole notes", "[drill]") {
    const auto is_rhythm = [](const char* lengths) {
        std::string fault;
        return rhythm_called(lengths, {}, fault).has_value();
    };
    CHECK(is_rhythm("1/32"));
    CHECK(is_rhythm("1/16 r1/32 1/32"));
    CHECK(is_rhythm("2"));
    CHECK_FALSE(is_rhythm("1/40"));  // a quintuplet of thirty-seconds
    CHECK_FALSE(is_rhythm("17/8"));
}

}  // namespace shedbook
