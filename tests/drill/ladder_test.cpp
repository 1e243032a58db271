#include "shedbook/drill/ladder.h"

#include <catch2/catch.hpp>

namespace shedbook {

namespace {

std::string name(const ScaleLadder& ladder, int rung) {
    return to_string(ladder.pitch(rung, *parse_pitch("C4")));
}

}  // namespace

TEST_CASE("a ladder goes on over the octave in both directions", "[drill]") {
    const ScaleLadder ladder{*parse_scale("C dorian"), parse_chord_symbol("Cm7")};
    CHECK(ladder.size() == 7);
    CHECK(name(ladder, 0) == "C4");
    CHECK(name(ladder, 2) == "Eb4");
    CHECK(name(ladder, 7) == "C5");
    CHECK(name(ladder, -1) == "Bb3");
    CHECK(name(ladder, -8) == "Bb2");
    CHECK(ladder.degree(0) == 1);
    CHECK(ladder.degree(9) == 3);
    CHECK(ladder.degree(-1) == 7);
}

TEST_CASE("chord tones are counted on their own rungs", "[drill]") {
    const ScaleLadder ladder{*parse_scale("C dorian"), parse_chord_symbol("Cm7")};
    CHECK(ladder.chord_size() == 4);
    CHECK(ladder.chord_rung(0) == 0);
    CHECK(ladder.chord_rung(3) == 6);
    CHECK(ladder.chord_rung(4) == 7);
    CHECK(ladder.chord_rung(-1) == -1);
    CHECK(ladder.chord_rung(ladder.chord_tone_at(1)) == 2);
    CHECK(ladder.chord_rung(ladder.chord_tone_at(2)) == 2);
    const ScaleLadder alone{*parse_scale("C dorian"), std::nullopt};
    CHECK(alone.chord_size() == 4);
}

TEST_CASE("other notes over the chord keep what the section is about", "[drill]") {
    const ScaleLadder ladder{*parse_scale("C dorian"), parse_chord_symbol("Cm7"), parse_pitch_class("Bb")};
    const ScaleLadder pair = ladder.with_notes(
        {{*parse_pitch_class("C"), {}}, {*parse_pitch_class("Eb"), parse_pitch_class("D#")}});
    CHECK(pair.size() == 2);
    CHECK(name(pair, 3) == "Eb5");
    REQUIRE(pair.has_falling_names());
    CHECK(to_string(pair.falling_pitch(3, *parse_pitch("C4"))) == "D#5");
    CHECK_FALSE(ladder.has_falling_names());
    CHECK(pair.home() == parse_pitch_class("Bb"));
    CHECK(pair.scale().tonic == ladder.scale().tonic);
    CHECK(ladder.with_chord_rungs({1, 3}).chord_rung(1) == 3);
}

}  // namespace shedbook
