#include "shedbook/drill/evaluate.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>
#include <vector>

#include "drill/note_names.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

ConcertLine drill(const char* id, const char* scale, PitchRange range, const char* chord = nullptr) {
    const ScaleLadder ladder{*parse_scale(scale),
                             chord != nullptr ? parse_chord_symbol(chord) : std::nullopt};
    const DrillTemplate& found = *find_drill(id);
    const auto plan = plan_drill(found, ladder, std::vector{range});
    REQUIRE(plan);
    return evaluate(found, ladder, *plan, range);
}

const PitchRange kMiddle{*parse_pitch("C4"), *parse_pitch("C6")};

}  // namespace

TEST_CASE("a scale ladder goes on in both directions and keeps its spelling", "[drill]") {
    const ScaleLadder ladder{*parse_scale("Db altered"), parse_chord_symbol("Db7alt")};
    const Pitch tonic{*parse_pitch_class("Db"), 4};
    CHECK(to_string(ladder.pitch(0, tonic)) == "Db4");
    CHECK(to_string(ladder.pitch(1, tonic)) == "D4");
    CHECK(to_string(ladder.pitch(6, tonic)) == "Cb5");
    CHECK(to_string(ladder.pitch(7, tonic)) == "Db5");
    CHECK(to_string(ladder.pitch(-1, tonic)) == "Cb4");
    CHECK(ladder.chord_rung(0) == 0);
}

TEST_CASE("thirds rise in pairs and fall with each pair turned over", "[drill]") {
    CHECK(names(drill("thirds", "C ionian", kMiddle)) ==
          "C4 E4 D4 F4 E4 G4 F4 A4 G4 B4 A4 C5 B4 D5 C5 E5 D5 B4 C5 A4 B4 G4 A4 F4 G4 E4 F4 D4 C4");
}

TEST_CASE("seventh chords alternate so that each is met upwards and downwards", "[drill]") {
    const ConcertLine line = drill("sevenths", "C ionian", kMiddle);
    CHECK(names(line).starts_with("C4 E4 G4 B4 C5 A4 F4 D4 E4 G4 B4 D5"));
    std::vector<std::pair<int, bool>> met;  // lowest note of a group, and whether it rises
    for (std::size_t i = 0; i + 4 <= line.notes.size(); i += 4) {
        const int first = line.notes[i].pitch.midi();
        const int last = line.notes[i + 3].pitch.midi();
        met.emplace_back(std::min(first, last) % 12, last > first);
    }
    for (const int root : {0, 2, 4, 5, 7, 9, 11}) {
        CHECK(std::ranges::count(met, std::pair{root, true}) >= 1);
        CHECK(std::ranges::count(met, std::pair{root, false}) >= 1);
    }
}

TEST_CASE("open triads rise from the root and fall from the top note", "[drill]") {
    const std::string line =
        names(drill("open-triads", "C ionian", {*parse_pitch("C3"), *parse_pitch("C6")}));
    CHECK(line.starts_with("C3 G3 E4 D3 A3 F4"));
    CHECK(line.ends_with("F4 A3 D3 E4 G3 C3 C3"));
}

TEST_CASE("up the chord and down the scale lands where it began, on the beat", "[drill]") {
    const ConcertLine line =
        drill("chord-up-scale-down", "G mixolydian", {*parse_pitch("G3"), *parse_pitch("G6")}, "G7");
    CHECK(names(line).starts_with("G3 B3 D4 F4 A4 G4 F4 E4 D4 C4 B3 A3 G3 B3 D4 F4 G4 C5 B4"));
    CHECK(names(line).ends_with("G3 B3 D4 F4 A4 G4 F4 E4 D4 C4 B3 A3 G3"));
    CHECK(line.notes[12].at == Position{Rational{3, 2}});
    CHECK(line.notes[12].length == kHalf);
}

TEST_CASE("the falling half of an enclosure drill truly descends", "[drill]") {
    const ConcertLine line = drill("enclosures-above", "C ionian", kMiddle);
    std::vector<int> targets;
    for (std::size_t i = 28; i < line.notes.size(); i += 4) targets.push_back(line.notes[i].pitch.midi());
    REQUIRE(targets.size() == 8);
    CHECK(std::ranges::is_sorted(targets, std::ranges::greater{}));
}

TEST_CASE("the range scale goes from the lowest tonic to the top, to the bottom and home", "[drill]") {
    const PitchRange range{*parse_pitch("Bb3"), *parse_pitch("F#6")};
    const ConcertLine line = drill("range-scale", "C ionian", range);
    CHECK(to_string(line.notes.front().pitch) == "C4");
    CHECK(to_string(line.notes.back().pitch) == "C4");
    const auto [low, high] =
        std::ranges::minmax(line.notes, {}, [](const LineNote& n) { return n.pitch.midi(); });
    CHECK(to_string(low.pitch) == "B3");
    CHECK(to_string(high.pitch) == "F6");
}

TEST_CASE("players of a group get the same bars and the same notes, each in his own octave", "[drill]") {
    const std::vector<PitchRange> group{{*parse_pitch("Db3"), *parse_pitch("A5")},
                                        {*parse_pitch("E2"), *parse_pitch("Bb4")}};
    for (const DrillTemplate& found : drill_templates()) {
        const ScaleLadder ladder{*parse_scale("F dorian"), parse_chord_symbol("Fm7")};
        const auto plan = plan_drill(found, ladder, group);
        INFO(found.id);
        if (!plan) {
            // Wider than the narrower of the two: it says which drill would do, and which range.
            const DrillAdvice advice = advice_on(found, ladder, group, drill_templates());
            REQUIRE(advice.needs);
            REQUIRE(advice.instead != nullptr);
            CHECK(plan_drill(*advice.instead, ladder, group));
            std::vector<PitchRange> wider = group;
            wider[advice.which] = *advice.needs;
            CHECK(plan_drill(found, ladder, wider));
            continue;
        }
        const ConcertLine first = evaluate(found, ladder, *plan, group[0]);
        const ConcertLine second = evaluate(found, ladder, *plan, group[1]);
        CHECK(first.length == second.length);
        CHECK(is_within(first, group[0]));
        CHECK(is_within(second, group[1]));
        if (found.form == DrillTemplate::Form::Range) continue;
        REQUIRE(first.notes.size() == second.notes.size());
        for (std::size_t i = 0; i < first.notes.size(); ++i) {
            CHECK(first.notes[i].pitch.name() == second.notes[i].pitch.name());
        }
    }
}

TEST_CASE("a drill that does not fit is shortened or begun elsewhere and says so", "[drill]") {
    const ScaleLadder ladder{*parse_scale("C ionian"), std::nullopt};
    const DrillTemplate& thirds = *find_drill("thirds");
    CHECK(plan_drill(thirds, ladder, std::vector{kMiddle})->remark.empty());
    const PitchRange narrow{*parse_pitch("C4"), *parse_pitch("B4")};
    const auto plan = plan_drill(thirds, ladder, std::vector{narrow});
    REQUIRE(plan);
    CHECK(plan->remark == "shortened");
    CHECK(plan->why == "to stay in range");
    const PitchRange tiny{*parse_pitch("C4"), *parse_pitch("D4")};
    CHECK_FALSE(plan_drill(thirds, ladder, std::vector{tiny}));
}

TEST_CASE("a drill that needs seven notes is not made of fewer", "[drill]") {
    const ScaleLadder ladder{*parse_scale("C minor pentatonic"), std::nullopt};
    CHECK_FALSE(plan_drill(*find_drill("sevenths"), ladder, std::vector{kMiddle}));
}

}  // namespace shedbook
