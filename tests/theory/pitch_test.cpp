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

TEST_CASE("the simplest name has no double accidental and stays near what is asked", "[theory]") {
    for (int semitone = 0; semitone < 12; ++semitone) {
        const PitchClass name = simplest_name(semitone);
        CHECK(name.semitone() == semitone);
        CHECK(std::abs(name.alter()) <= 1);
    }
    CHECK(to_string(simplest_name(6, *parse_pitch_class("Db"))) == "Gb");
    CHECK(to_string(simplest_name(6, *parse_pitch_class("D"))) == "F#");
}

TEST_CASE("a name with a double accidental has a plain one beside it", "[theory]") {
    CHECK(to_string(without_double_accidental(*parse_pitch("F##4"))) == "G4");
    CHECK(to_string(without_double_accidental(*parse_pitch("Cbb5"))) == "Bb4");
    CHECK(to_string(without_double_accidental(*parse_pitch_class("Bbb"))) == "A");
    CHECK(to_string(without_double_accidental(*parse_pitch_class("Cb"))) == "Cb");
}

}  // namespace shedbook
