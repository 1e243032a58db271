#include "shedbook/theory/pitch_class.h"

#include <catch2/catch.hpp>
#include <cstdlib>

namespace shedbook {

TEST_CASE("the simplest name has no double accidental and stays near what is asked", "[theory]") {
    for (int semitone = 0; semitone < 12; ++semitone) {
        const PitchClass name = simplest_name(semitone);
        CHECK(name.semitone() == semitone);
        CHECK(std::abs(name.alter()) <= 1);
    }
    CHECK(to_string(simplest_name(6, *parse_pitch_class("Db"))) == "Gb");
    CHECK(to_string(simplest_name(6, *parse_pitch_class("D"))) == "F#");
}

// The line of fifths: F C G D A E B, each sharp seven further on (Open Music Theory v1, "Key signatures").
TEST_CASE("names lie on the line of fifths, seven fifths an accidental apart", "[theory]") {
    CHECK(to_string(PitchClass::from_fifths(0)) == "C");
    CHECK(to_string(PitchClass::from_fifths(-1)) == "F");
    CHECK(to_string(PitchClass::from_fifths(6)) == "F#");
    CHECK(to_string(PitchClass::from_fifths(-8)) == "Fb");
    for (int fifths = -15; fifths <= 19; ++fifths) {
        const PitchClass name = PitchClass::from_fifths(fifths);
        CHECK(name.fifths() == fifths);
        CHECK(PitchClass::of(name.step(), name.alter()) == name);
        CHECK(PitchClass::from_fifths(fifths + 7).alter() == name.alter() + 1);
        CHECK(parse_pitch_class(to_string(name)) == name);
    }
}

}  // namespace shedbook
