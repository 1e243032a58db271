#include "shedbook/chart/timeline.h"

#include <catch2/catch.hpp>

#include "chart/dump.h"
#include "chart/typed_chart.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
TEST_CASE("a chart of 100,000 bars is read and unfolded", "[chart][tune]") {
    const Chart chart = read(repeated("| Dm7 | G7 | C | C |\n", 25'000));
    Diagnostics diagnostics;
    const auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    CHECK(timeline->bars.size() == 100'000);
    CHECK(timeline->length == Duration{Rational{100'000}});
}

TEST_CASE("a chart whose repeats make more than can be played is not unfolded", "[chart][timeline]") {
    const auto refusal = [](const std::string& text) {
        const Chart chart = read(text);
        Diagnostics diagnostics;
        CHECK(!unfold(chart, diagnostics));
        REQUIRE(diagnostics.all().size() == 1);
        return diagnostics.all().front().where + ": " + diagnostics.all().front().message;
    };
    std::string full = "Title: Full\n|";
    for (int i = 0; i < 800; ++i) full += " 1+" + std::to_string(i) + "/480:C";
    // As repeat signs for bars, and as repeats of the form.
    CHECK(refusal(full + " |\n" + repeated("| % ", 700) + "|") ==
          "Full: bar 626: more than 500000 chords with all repeats");
    CHECK(refusal(full + " :| x99\n" + repeated("| % ", 600) + ":| x99") ==
          "Full: bar 528: more than 500000 chords with all repeats");
    CHECK(refusal("Title: Long\n|: lasts 100/1 C | % :| x99\n" +
                  repeated("|: C | lasts 100/1 C :| x99\n", 30)) ==
          "Long: bar 42: more than 200000 whole notes with all repeats");
}

TEST_CASE("chords that share one place are not cut finer than can be written", "[chart][timeline]") {
    const auto has_timeline = [](const std::string& bar) {
        Diagnostics diagnostics;
        return unfold(read("| C |\n| " + bar + "|"), diagnostics).has_value();
    };
    CHECK(has_timeline(repeated("2:G ", 7)));
    CHECK(has_timeline(repeated("2:G ", 7) + repeated("3:C ", 5) + repeated("4:G ", 11)));
    CHECK_FALSE(has_timeline(repeated("2:G ", 997)));
    CHECK_FALSE(has_timeline(repeated("2:G ", 59) + repeated("3:C ", 61) + repeated("4:G ", 67)));
}

TEST_CASE("contradictions in a chart that was made in code are reported with their bar", "[chart][form]") {
    Chart chart = read("Title: Loop\n| C | F | G |");
    chart.sections[0].bars[1].marks.signs.put(FormSign::DalSegno);
    Diagnostics diagnostics;
    CHECK(!order_of_play(chart, diagnostics));
    CHECK(!unfold(chart, diagnostics));
    REQUIRE(diagnostics.all().size() == 2);
    CHECK(diagnostics.all()[0].where == "Loop: bar 2");
    CHECK(diagnostics.all()[0].message == "D.S. without a segno before it");
}

TEST_CASE("a chord knows its written place and its place in time", "[chart][timeline]") {
    const Chart chart = read("[A]\n|: C <F :|\n[B]\n| 3/4 G 3:Am |");
    Diagnostics diagnostics;
    const auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    REQUIRE(timeline->chords.size() == 6);
    const ChordSpan& pushed = timeline->chords[3];
    CHECK(pushed.inst == 1);
    CHECK(pushed.bar == 0);
    CHECK(pushed.played_bar == 1);
    CHECK(pushed.in_bar == Position{Rational{1, 2}});
    CHECK(pushed.at == Position{Rational{11, 8}});
    CHECK(pushed.length == Duration{Rational{5, 8}});
    CHECK(timeline->bars[2].section == 1);
    CHECK(timeline->bars[2].meter == Meter{3, 4});
    CHECK(timeline->chords[5].length == kQuarter);
}

TEST_CASE("tied melody notes become one, also over a bar line", "[chart][timeline]") {
    Chart chart = read("| C | F |");
    const Pitch g4{*parse_pitch_class("G"), 4};
    std::vector<Bar>& bars = chart.sections[0].bars;
    bars[0].melody = {{Position{}, kHalf, g4, false}, {Position{Rational{1, 2}}, kHalf, g4, true}};
    bars[1].melody = {{Position{}, kQuarter, g4, false},
                      {Position{Rational{1, 4}}, kQuarter, std::nullopt, false}};
    Diagnostics diagnostics;
    const auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    REQUIRE(timeline->melody.size() == 2);
    CHECK(timeline->melody[1].at == Position{Rational{1, 2}});
    CHECK(timeline->melody[1].length == Duration{Rational{3, 4}});
}

}  // namespace shedbook
