#include "shedbook/etude/spelling.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("a key number has its name in the scale, else in the chord, else none", "[etude]") {
    ScaleSpan span;
    span.notes = {*parse_pitch_class("Db"), *parse_pitch_class("Eb")};
    span.chord = {*parse_pitch_class("Cb")};
    CHECK(scale_name(span, 61) == parse_pitch_class("Db"));
    CHECK(scale_name(span, 59) == parse_pitch_class("Cb"));
    CHECK_FALSE(scale_name(span, 60));
}

TEST_CASE("a name stands in the octave where it sounds", "[etude]") {
    CHECK(pitch_of(*parse_pitch_class("Cb"), 59) == *parse_pitch("Cb4"));
    CHECK(pitch_of(*parse_pitch_class("B#"), 60) == *parse_pitch("B#3"));
}

// Common practice, no source.
TEST_CASE("what leads up has the letter below, what leads down the letter above", "[etude]") {
    const Pitch g = *parse_pitch("G4");
    CHECK(leading_to(g, 66) == *parse_pitch("F#4"));
    CHECK(leading_to(g, 68) == *parse_pitch("Ab4"));
}

}  // namespace shedbook
