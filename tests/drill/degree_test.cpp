// What the numbers of a cell mean. The diminished scale: Hutchinson, Music Theory for the 21st-Century
// Classroom, 31.10; the rest common practice, no source.
#include "shedbook/drill/degree.h"

#include <catch2/catch.hpp>

#include "shedbook/base/text.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/drill/pattern.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

Degrees over(const char* scale, const char* note) {
    return degrees_above(sounds_above(strict_notes(*parse_scale(scale)), *parse_pitch_class(note)), {});
}

// The first notes of a drill that plays `cell` on every note of the scale.
std::string played(const char* cell, const char* scale, const char* chord, const char* more = "") {
    const std::string text =
        "[[drill]]\nid = \"x\"\ntitle = \"X\"\nrising = \"" + std::string{cell} + "\"\n" + more + "\n";
    Diagnostics diagnostics;
    const auto drills = read_drill_templates(SourceText{"x.toml", text}, diagnostics);
    REQUIRE(drills.size() == 1);
    const std::string symbol{chord};
    const ScaleLadder ladder{*parse_scale(scale), symbol.empty() ? std::nullopt : parse_chord_symbol(symbol)};
    const PitchRange range{*parse_pitch("C3"), *parse_pitch("C6")};
    const auto plan = plan_drill(drills.front(), ladder, std::vector{range});
    REQUIRE(plan);
    std::string out = plan->remark.empty() ? "" : "(" + plan->remark + ") ";
    const ConcertLine line = evaluate(drills.front(), ladder, *plan, range);
    for (std::size_t i = 0; i < 8; ++i) out += (i == 0 ? "" : " ") + to_string(line.notes[i].pitch.name());
    return out;
}

}  // namespace

TEST_CASE("degrees over a note are those of their size, thirds upon thirds", "[drill]") {
    CHECK(over("C ionian", "C") == Degrees{0, 2, 4, 5, 7, 9, 11});
    CHECK(over("C half-whole diminished", "C") == Degrees{0, 1, 3, 6, 7, 9, 10});
    CHECK(over("C whole-half diminished", "C") == Degrees{0, 2, 3, 5, 6, 8, 9});
    CHECK(over("C whole tone", "C") == Degrees{0, 2, 4, 6, 8, {}, 10});
    CHECK(over("C minor pentatonic", "C") == Degrees{0, {}, 3, 5, 7, {}, 10});
}

TEST_CASE("a sus chord has a fourth and no third", "[drill]") {
    const auto sus = [](const char* chord) {
        return is_sus(chord_notes(*parse_chord_symbol(chord)), *parse_pitch_class("C"));
    };
    CHECK(sus("C7sus4"));
    CHECK_FALSE(sus("C7"));
    CHECK_FALSE(sus("Cm11"));
}

TEST_CASE("a cell over a scale of eight notes has the chord's third and fifth, and 8 is the octave",
          "[drill]") {
    CHECK(played("1 2 3 5 8 5 3 2", "C half-whole diminished", "C7b9") == "C Db E G C G E Db");
    CHECK(played("1 3 5 7 8 7 5 3", "C whole-half diminished", "Cdim7") == "C Eb Gb A C A Gb Eb");
    CHECK(played("1 2 3 5 8 5 3 2", "C bebop dominant", "C7") == "C D E G C G E D");
}

TEST_CASE("where the only fifth is augmented the third is major", "[drill]") {
    const SoundsAbove notes{
        0b1011'0011'1101};  // over the sixth note of a Phrygian dominant with both sevenths
    CHECK(degrees_above(notes, {})[2] == 4);
    CHECK(degrees_above(notes, {})[4] == 8);
}

TEST_CASE("over an altered chord 3 is the chord's third, in a cell of three degrees and more", "[drill]") {
    CHECK(played("1 3 5 7", "C altered", "C7alt").starts_with("C E "));
    CHECK(played("1 3", "C altered", "C7alt").starts_with("C Eb "));
}

TEST_CASE("over a sus chord a cell takes 4 for 3, but beside a 4", "[drill]") {
    CHECK(played("1 2 3 5", "C mixolydian", "C7sus4") == "C D F G D E F A");
    CHECK(played("1 3 4 5", "C mixolydian", "C7sus4") == "C E F G D F G A");
    CHECK(played("1 3", "C mixolydian", "C7sus4") == "C E D F E G F A");
}

TEST_CASE("where a scale lacks a degree the numbers count its notes, and the drill says so", "[drill]") {
    CHECK(played("1 2 3 4", "A minor pentatonic", "Am7") == "(counting scale notes) A C D E C D E G");
    CHECK(played("1 2 3 4", "A minor pentatonic", "Am7", "count = \"notes\"") == "A C D E C D E G");
}

}  // namespace shedbook
