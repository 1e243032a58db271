#include "shedbook/theory/pitch.h"

#include <catch2/catch.hpp>
#include <cstdlib>

namespace shedbook {

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};

static_assert(!addable<Pitch, Pitch>, "two places on the keyboard have no sum");
static_assert(addable<Pitch, Interval>);
static_assert(!addable<PitchClass, PitchClass>);
static_assert(addable<PitchClass, Interval>);

namespace {

std::vector<PitchClass> all_names() {
    std::vector<PitchClass> out;
    for (int fifths = -15; fifths <= 19; ++fifths) out.push_back(PitchClass::from_fifths(fifths));
    return out;
}

}  // namespace

TEST_CASE("an interval added to a spelled note spells the result", "[theory]") {
    const Pitch a_flat_4{PitchClass::of(Step::A, -1), 4};
    CHECK(to_string(a_flat_4 + kMinorThird) == "Cb5");
    CHECK(kC + kMinorThird == *parse_pitch_class("Eb"));
    CHECK(to_string(kC + Interval{3, 6}) == "F#");
    CHECK(to_string(*parse_pitch("B3") + kMajorThird) == "D#4");
    CHECK(to_string(*parse_pitch("E#4") - kMinorSecond) == "D##4");
}

TEST_CASE("transposing by an interval and back gives the same note for all 35 names in 8 octaves",
          "[theory]") {
    const std::vector<PitchClass> names = all_names();
    for (const PitchClass name : names) {
        for (int octave = 0; octave < 8; ++octave) {
            const Pitch pitch{name, octave};
            REQUIRE(pitch.name() == name);
            REQUIRE(pitch.octave() == octave);
            REQUIRE(*parse_pitch(to_string(pitch)) == pitch);
            for (int number = 1; number <= 15; ++number) {
                for (int alter = -2; alter <= 2; ++alter) {
                    const Interval by = make_degree(number, alter);
                    REQUIRE(pitch + by - by == pitch);
                    REQUIRE((pitch + by) - pitch == by);
                    REQUIRE((pitch + by).midi() == pitch.midi() + by.semitones());
                    REQUIRE((name + by).semitone() == (pitch + by).midi() % 12);
                }
            }
        }
    }
}

TEST_CASE("the interval up between two note names lands on the second", "[theory]") {
    for (const PitchClass a : all_names()) {
        for (const PitchClass b : all_names()) {
            const Interval up = b - a;
            REQUIRE(a + up == b);
            REQUIRE(up.steps() >= 0);
            REQUIRE(up.steps() < 7);
        }
    }
}

// Scientific pitch notation (Acoustical Society of America, 1939, from memory): A4 is 440 Hz, middle C is C4.
// Key numbers: MIDI 1.0 specification, middle C is 60.
TEST_CASE("octaves and key numbers follow the standards", "[theory]") {
    CHECK(parse_pitch("C4")->midi() == 60);
    CHECK(parse_pitch("A4")->midi() == 69);
    CHECK(parse_pitch("B#3")->midi() == 60);
    CHECK(parse_pitch("Cb4")->midi() == 59);
    CHECK(parse_pitch("C-1")->midi() == 0);
    CHECK(parse_pitch("G9")->midi() == 127);
}

TEST_CASE("a text that is no note is no note", "[theory]") {
    for (const char* text : {"", "H4", "c4", "C", "C11", "C#b4", "A2122666626", "C4x", "4", "C--1", "C-2"}) {
        INFO(text);
        CHECK_FALSE(parse_pitch(text));
    }
    CHECK_FALSE(parse_pitch_class("C#b"));
    CHECK_FALSE(parse_pitch_class("Cbbbb"));
    CHECK(parse_pitch_class("C\u266F") == parse_pitch_class("C#"));
    CHECK(parse_pitch_class("B\u266D") == parse_pitch_class("Bb"));
}

TEST_CASE("a name with a double accidental has a plain one beside it", "[theory]") {
    CHECK(to_string(without_double_accidental(*parse_pitch("F##4"))) == "G4");
    CHECK(to_string(without_double_accidental(*parse_pitch("Cbb5"))) == "Bb4");
    CHECK(to_string(without_double_accidental(*parse_pitch_class("Bbb"))) == "A");
    CHECK(to_string(without_double_accidental(*parse_pitch_class("Cb"))) == "Cb");
}

}  // namespace shedbook
