// Rhythm, meter, articulation, place in the bar, and what happens at the ends of the range.
#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

#include "drill/note_names.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/drill/material.h"

namespace shedbook {
namespace {

DrillTemplate drill(const std::string& fields) {
    Diagnostics diagnostics;
    const auto list = read_drill_templates(
        SourceText{"test", "[[drill]]\nid = \"test\"\ntitle = \"Test\"\n" + fields}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) FAIL(render(diagnostic));
    REQUIRE(list.size() == 1);
    return list.front();
}

const ScaleLadder& c_major() {
    static const ScaleLadder kLadder{*parse_scale("C ionian"), parse_chord_symbol("Cmaj7")};
    return kLadder;
}

PitchRange range(const char* low, const char* high) {
    return {*parse_pitch(low), *parse_pitch(high)};
}

ConcertLine play(const DrillTemplate& found, PitchRange in, std::optional<int> position = {}) {
    const auto plan = plan_drill(found, c_major(), std::vector{in});
    REQUIRE(plan);
    return evaluate(found, c_major(), *plan, in, position);
}

const PitchRange kWide{*parse_pitch("C3"), *parse_pitch("C7")};

}  // namespace

// The note that an enclosure leads to belongs on a strong beat: the first of a waltz, the first eighth of
// each group in compound meters (common practice, no source).
TEST_CASE("what a cell leads to falls on a strong beat in threes too", "[drill]") {
    const std::vector<PitchRange> ranges{kWide};
    int checked = 0;
    for (const DrillTemplate& shipped : drill_templates()) {
        if (shipped.rising.empty() || shipped.rhythm != Rhythm{{kEighth}}) continue;
        const std::size_t notes = shipped.rising.front().size();
        const CellNote& last = shipped.rising.front().back();
        if (last.kind != CellNote::Kind::Neighbour || last.target != CellNote::Target::Next) continue;
        for (const Meter& meter : {Meter{3, 4}, Meter{6, 8}, Meter{12, 8}}) {
            if (meter == Meter{3, 4} && notes == 2) continue;  // a beat each: on the beat as they are
            const DrillTemplate laid = in_setting(shipped, {.meter = meter});
            const std::optional<DrillPlan> plan = plan_drill(laid, c_major(), ranges);
            if (!plan) continue;
            const ConcertLine line = evaluate(laid, c_major(), *plan, kWide);
            INFO(shipped.id << " in " << to_string(meter));
            const Duration strong = meter == Meter{3, 4} ? meter.bar_length() : kQuarter + kEighth;
            for (std::size_t i = 0; i + notes < line.notes.size(); i += notes)
                CHECK(((line.notes[i].at - Position{}) / strong).is_whole());
            ++checked;
        }
    }
    CHECK(checked > 20);
}

TEST_CASE("a drill like another takes all that it does not say itself", "[drill]") {
    const DrillTemplate sixths = drill("like = \"thirds\"\nrising = \"1 6\"\nfalling = \"6 1\"\n");
    CHECK(names(play(sixths, range("C4", "C6"))) ==
          "C4 A4 D4 B4 E4 C5 F4 D5 G4 E5 A4 F5 B4 G5 C5 A5 G5 B4 F5 A4 E5 G4 D5 F4 C5 E4 B4 D4 C4");
    CHECK(sixths.level == find_drill("thirds")->level);
    CHECK(sixths.end.has_value());
}

TEST_CASE("an inversion lays the lowest notes an octave higher and keeps the direction", "[drill]") {
    const DrillTemplate first = drill(
        "rising = \"1 3 5\"\nfalling = \"5 3 1\"\ninversion = 1\nup = \"bottom to bottom\"\n"
        "down = \"bottom to bottom\"\n");
    CHECK(names(play(first, range("C4", "C6"))) == "E4 G4 C5 C5 G4 E4");
    const DrillTemplate third =
        drill("rising = \"7 5 3 1\"\ninversion = 3\norder = \"up\"\nup = \"bottom to bottom\"\n");
    CHECK(names(play(third, range("C4", "C6"))) == "G5 E5 C5 B4");
}

TEST_CASE("a rhythm goes on through cells and bars, with its rests", "[drill]") {
    const ConcertLine line =
        play(drill("rising = \"1 2 3\"\norder = \"up\"\nrhythm = \"r1/8 1/8 1/4\"\n"), kWide);
    CHECK(line.notes[0].at == Position{Rational{1, 8}});
    CHECK(line.notes[1].at == Position{Rational{1, 4}});
    CHECK(line.notes[2].at == Position{Rational{5, 8}});
    CHECK(line.notes[1].length == kQuarter);
}

TEST_CASE("triplets become eighths in a compound meter", "[drill]") {
    const DrillTemplate threes = in_setting(*find_drill("groups-of-three"), {.meter = Meter{12, 8}});
    CHECK(threes.rhythm[0].length == kEighth);
    const ConcertLine line = play(threes, kWide);
    CHECK((line.length / Meter{12, 8}.bar_length()).is_whole());
}

TEST_CASE("triplets are not moved by half a beat, and the drill says so", "[drill]") {
    const DrillTemplate moved = in_setting(*find_drill("groups-of-three"), {.displaced = 1});
    CHECK(moved.displaced == 0);
    const auto plan = plan_drill(moved, c_major(), std::vector{kWide});
    REQUIRE(plan);
    CHECK(plan->remark == "in triplets, so not moved by half a beat");
}

TEST_CASE("marks begin again in every bar; slurs over the beat leave out what they cannot join", "[drill]") {
    const DrillTemplate slurred = drill("like = \"thirds\"\narticulation = \"o) (o\"\n");
    const ConcertLine line = play(slurred, range("C4", "C6"));
    CHECK_FALSE(line.notes[0].slur_stops);
    for (std::size_t i = 1; i + 2 < line.notes.size(); i += 2) {
        CHECK(line.notes[i].slur_starts);
        CHECK(line.notes[i + 1].slur_stops);
    }
    const DrillTemplate repeated =
        drill("rising = \"1 1 2\"\norder = \"up\"\narticulation = \"(o o o o)\"\nmeter = \"3/4\"\n");
    const ConcertLine more = play(repeated, kWide);
    for (std::size_t i = 0; i + 1 < more.notes.size(); ++i) {
        if (more.notes[i].pitch == more.notes[i + 1].pitch) CHECK_FALSE(more.notes[i].slur_starts);
    }
}

TEST_CASE("a drill that turns keeps its beginning and its length where the range ends", "[drill]") {
    const DrillTemplate turning = drill("like = \"octave-scale\"\nends = \"turn\"\n");
    const auto plan = plan_drill(turning, c_major(), std::vector{range("G3", "A4")});
    REQUIRE(plan);
    CHECK(plan->remark == "turned where the range ends");
    CHECK(plan->why == "to stay in range");
    CHECK(names(evaluate(turning, c_major(), *plan, range("G3", "A4"))) ==
          "C4 D4 E4 F4 G4 A4 G4 F4 E4 D4 C4 B3 A3 B3 C4");
}

TEST_CASE("cells that do not fit are left out or moved by an octave, and the title says how many",
          "[drill]") {
    const std::string wide = "rising = \"1 5\"\norder = \"up\"\nend = \"1\"\n";
    const DrillTemplate drops = drill(wide + "ends = \"drop\"\n");
    const PitchRange narrow = range("C4", "E5");
    const auto plan = plan_drill(drops, c_major(), std::vector{narrow});
    REQUIRE(plan);
    CHECK(plan->remark == "2 cells left out");
    CHECK(names(evaluate(drops, c_major(), *plan, narrow)) == "C4 G4 D4 A4 E4 B4 F4 C5 G4 D5 A4 E5 C4");
    const DrillTemplate folds = drill(wide + "ends = \"octave\"\n");
    const PitchRange lower = range("B3", "E5");
    const auto folded = plan_drill(folds, c_major(), std::vector{lower});
    REQUIRE(folded);
    CHECK(folded->remark == "2 cells in another octave");
    CHECK(names(evaluate(folds, c_major(), *folded, lower)) ==
          "C4 G4 D4 A4 E4 B4 F4 C5 G4 D5 A4 E5 B3 F4 C4 G4 C4");
}

TEST_CASE("a drill is written in every octave that there is room for, or in the one that lies best",
          "[drill]") {
    const DrillTemplate& scale = *find_drill("octave-scale");
    const auto plan = plan_drill(scale, c_major(), std::vector{kWide});
    REQUIRE(plan);
    REQUIRE(octave_positions(scale, c_major(), *plan, kWide) == 4);
    for (int position = 0; position < 4; ++position) {
        const ConcertLine line = evaluate(scale, c_major(), *plan, kWide, position);
        CHECK(line.notes.front().pitch == Pitch{kC, 3 + position});
        CHECK(is_within(line, kWide));
    }
    // Half way between C3 and C7.
    CHECK(evaluate(scale, c_major(), *plan, kWide).notes.front().pitch == Pitch{kC, 4});
}

TEST_CASE("a file's drill takes the place of the shipped one of its name", "[drill]") {
    DrillLibrary library = shipped_drills();
    const std::size_t before = library.drills.size();
    Diagnostics diagnostics;
    const auto ids = read_into(
        library, SourceText{"mine", "[[drill]]\nid = \"Thirds\"\ntitle = \"Mine\"\nrising = \"1 3 1\"\n"},
        diagnostics);
    CHECK_FALSE(diagnostics.has_errors());
    CHECK(ids == std::vector<std::string>{"thirds"});
    CHECK(library.drills.size() == before);
    CHECK(library.find_drill("thirds")->title == "Mine");
    CHECK(find_drill("thirds")->title != "Mine");
}

TEST_CASE("faults of rhythms, marks and tables are shown at their place", "[drill]") {
    const std::string head = "[[drill]]\nid = \"a\"\ntitle = \"A\"\nrising = \"1\"\n";
    const auto fault = [](const std::string& text) {
        Diagnostics diagnostics;
        static_cast<void>(read_drill_templates(SourceText{"mine.toml", text}, diagnostics));
        REQUIRE(diagnostics.all().size() == 1);
        return render(diagnostics.all()[0]);
    };
    CHECK(fault(head + "rhythm = \"1/8 1/9\"\n") ==
          "mine.toml:5:15: error: '1/9' is no length of a note\n"
          "    rhythm = \"1/8 1/9\"\n"
          "                  ^^^\n"
          "    lengths are parts of a whole note: 1/4 1/8 3/16 1/12 (a triplet); r1/8 is a rest\n");
    CHECK(fault(head + "articulation = \"o o ?\"\n") ==
          "mine.toml:5:21: error: '?' is no mark here\n"
          "    articulation = \"o o ?\"\n"
          "                        ^\n"
          "    write o for a plain note, . short, - full length, > accent; slurred notes in ( )\n");
    CHECK_THAT(fault(head + "articulation = \"(o o\"\n"), Catch::Contains("a slur is opened and not closed"));
    CHECK_THAT(fault(head + "rhythm = \"1/12 1/12 1/8\"\n"), Catch::Contains("triplets stand in threes"));
    CHECK_THAT(fault(head + "rhythm = \"triplets\"\ndisplace = 3\n"),
               Catch::Contains("moved by whole beats"));
    CHECK_THAT(fault(head + "material = \"pentatonc\"\n"), Catch::Contains("did you mean 'pentatonic'?"));
    CHECK_THAT(fault("[[dril]]\nid = \"a\"\n"), Catch::Contains("did you mean [[drill]]?"));
    CHECK_THAT(fault("[drill]\nid = \"a\"\n"), Catch::Contains("in two brackets"));
    CHECK_THAT(fault("[[drill]]\nid = \"a\"\ntitle = \"A\"\nlike = \"thrids\"\n"),
               Catch::Contains("did you mean 'thirds'?"));
}

TEST_CASE("what does not fit is said with the range and the drill that would do", "[drill]") {
    const std::vector<PitchRange> voice{range("G3", "D5")};
    const DrillTemplate& open = *find_drill("open-triads-second-inversion");
    REQUIRE_FALSE(plan_drill(open, c_major(), voice));
    const DrillAdvice advice = advice_on(open, c_major(), voice, drill_templates());
    CHECK(advice.why == "the range is too small even for its shortest form");
    REQUIRE(advice.needs);
    CHECK(plan_drill(open, c_major(), std::vector{*advice.needs}));
    REQUIRE(advice.instead != nullptr);
    CHECK(plan_drill(*advice.instead, c_major(), voice));
    const ScaleLadder five{*parse_scale("C minor pentatonic"), std::nullopt};
    CHECK(advice_on(*find_drill("sevenths"), five, voice, drill_templates()).why ==
          "it needs 7 notes to an octave, and there are 5");
}

// Whatever a teacher writes is either refused or stays in range and fills its bars.
TEST_CASE("drills put together at random stay in range and fill their bars", "[drill]") {
    std::mt19937 random{20};
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random()) % n; };
    const auto pick = [&](const std::vector<std::string>& list) { return list[below(list.size())]; };
    const std::vector<std::string> notes{"1",
                                         "3",
                                         "5",
                                         "-2",
                                         "8",
                                         "2'",
                                         "4,",
                                         "c1",
                                         "c2",
                                         "c4",
                                         "15",
                                         "-9",
                                         "1''",
                                         "half-below:next",
                                         "step-above:next",
                                         "whole-above:3",
                                         "half-above:c2",
                                         "run:1",
                                         "run:5'"};
    const std::vector<std::string> edges{"bottom", "top", "top-1", "top+2", "bottom+1", "bottom-3", "top-9"};
    const std::vector<PitchRange> ranges{range("G3", "D5"), range("E2", "Bb4"), range("A0", "C8"),
                                         range("C4", "E4")};
    const std::vector<std::string> scales{"C ionian", "Eb altered", "F# whole tone", "D minor pentatonic",
                                          "A bebop dominant"};
    int played = 0;
    int read = 0;
    for (int round = 0; round < 4000; ++round) {
        const auto cell = [&] {
            std::string out = "\"1";
            for (std::size_t n = below(6); n > 0; --n) out += " " + pick(notes);
            return out + "\"";
        };
        std::string text =
            "[[drill]]\nid = \"a\"\ntitle = \"A\"\nnotes = 1\nrising = [" + cell() + ", " + cell() + "]\n";
        if (below(2) == 0) text += "falling = " + cell() + "\n";
        if (below(4) == 0) text += "turn = " + cell() + "\n";
        if (below(2) == 0) text += "up = \"" + pick(edges) + " to " + pick(edges) + "\"\n";
        if (below(2) == 0) text += "down = \"" + pick(edges) + " to " + pick(edges) + "\"\n";
        if (below(2) == 0) text += "end = \"" + pick({"1", "1'", "-4", "none"}) + "\"\n";
        text +=
            "every = " + std::to_string(1 + below(4)) + "\nstart = " + std::to_string(1 + below(7)) + "\n";
        text += "octaves = " + std::to_string(1 + below(3)) + "\ninversion = 0\n";
        text += "form = \"" + pick({"cells", "cells", "range"}) + "\"\nwalk = \"" + pick({"scale", "chord"}) +
                "\"\n";
        text += "order = \"" + pick({"up-down", "down-up", "up", "down"}) + "\"\n";
        text += "ends = \"" + pick({"shorten", "turn", "drop", "octave"}) + "\"\n";
        text += "rhythm = \"" +
                pick({"eighths", "triplets", "quintuplets", "r1/8 1/4 3/8", "2", "1/16 3/16"}) + "\"\n";
        text += "meter = \"" + pick({"4/4", "3+2/4", "6/8", "7/8", "2/2"}) + "\"\n";
        text += "cells = \"" + pick({"joined", "held"}) + "\"\narticulation = \"" +
                pick({"(o o) .", "o) (o", ">"}) + "\"\n";
        text += "material = \"" + pick(material_names()) + "\"\ndisplace = " + pick({"0", "2", "4"}) + "\n";
        Diagnostics diagnostics;
        const auto list = read_drill_templates(SourceText{"random", text}, diagnostics);
        INFO(text);
        for (const Diagnostic& diagnostic : diagnostics.all()) FAIL(render(diagnostic));
        ++read;
        const ScaleLadder ladder{*parse_scale(pick(scales)), std::nullopt};
        for (const std::vector<PitchRange>& group :
             {std::vector{ranges[below(4)]}, std::vector{ranges[0], ranges[1 + below(2)]}}) {
            const auto plan = plan_drill(list[0], ladder, group);
            if (!plan) {
                CHECK_FALSE(advice_on(list[0], ladder, group, {}).why.empty());
                continue;
            }
            for (const PitchRange& one : group) {
                ++played;
                const ConcertLine line = evaluate(list[0], ladder, *plan, one);
                REQUIRE_FALSE(line.notes.empty());
                REQUIRE(is_within(line, one));
                REQUIRE(line.length == list[0].meter.bar_length() * Rational{plan->bars});
                Position at;
                for (const LineNote& note : line.notes) {
                    REQUIRE(note.at >= at);
                    at = note.at + note.length;
                }
                REQUIRE(at - Position{} <= line.length);
            }
        }
    }
    CHECK(read == 4000);
    CHECK(played > 500);
}

}  // namespace shedbook
