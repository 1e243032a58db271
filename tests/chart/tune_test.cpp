#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "chart/dump.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

std::optional<Chart> try_read(const std::string& text, Diagnostics& diagnostics) {
    return read_tune(SourceText{"test.tune", text}, diagnostics);
}

Chart read(const std::string& text) {
    Diagnostics diagnostics;
    auto chart = try_read(text, diagnostics);
    std::string messages;
    for (const Diagnostic& diagnostic : diagnostics.all()) messages += render(diagnostic);
    INFO(text << "\n" << messages);
    REQUIRE(chart);
    return *std::move(chart);
}

std::string repeated(std::string_view text, int times) {
    std::string out;
    for (int i = 0; i < times; ++i) out += text;
    return out;
}

}  // namespace

TEST_CASE("the example at the top of chart.h holds", "[chart][tune]") {
    Diagnostics diagnostics;
    auto chart = read_tune(SourceText{"a.tune", "Title: Two bars\n| Dm7 G7 | Cmaj7 |\n"}, diagnostics);
    REQUIRE(chart);
    CHECK(chart->sections[0].bars[0].chords.size() == 2);
    CHECK(order_of_play(*chart, diagnostics) == std::vector<int>{0, 1});
}

TEST_CASE("one symbol has the bar, two share four beats, more have one beat each", "[chart][tune]") {
    CHECK(chords_of(read("| Dm7 | G7 C | F G Am | C / F G |")) == "Dm7 | G7 C@3 | F G@2 Am@3 | C F@3 G@4");
    CHECK(chords_of(read("Meter: 3/4\n| Dm7 | G7 C | F G Am |")) == "Dm7 | G7 C@2 | F G@2 Am@3");
    CHECK(chords_of(read("Meter: 6/4\n| Cm7 / / F7 / / | Cm7 F7 |")) == "Cm7 F7@4 | Cm7 F7@2");
    CHECK(chords_of(read("Meter: 6/8\n| C F | C / / F / G |")) == "C F@4 | C F@4 G@6");
    CHECK(chords_of(read("| C / / / / / / F |")) == "C F@9/2");
}

TEST_CASE("lines, bar lines and blanks may be set as one likes", "[chart][tune]") {
    const std::string one = dump(read("[A]\n| Dm7 | G7 | Cmaj7 | % |\n| F |"));
    CHECK(dump(read("[A] |Dm7|G7|\r\n|Cmaj7|%|\r\n|F|]\r\n")) == one);
    CHECK(dump(read("[ A ]\n\tDm7 |\tG7 |\nCmaj7 | % |\n\nF")) == one);
    CHECK(dump(read("[A]\n\u2502 Dm7 \u2502 G7\u00A0\u2502 Cmaj7 \uFF5C % \u2502 F \u2502")) == one);
}

TEST_CASE("a symbol may be followed by a comment, a bar line or an ending without a blank", "[chart][tune]") {
    CHECK(chords_of(read("|:C|1.F:|2.G;so\n")) == "C | F | G");
    CHECK(chords_of(read("| C7(b9, #11) | F |")) == "C7(b9,#11) | F");
}

TEST_CASE("symbols are printed in the reader's own habit", "[chart][tune]") {
    const Chart chart = read("| Cmaj7 Am7 | Bb7 |");
    SymbolStyle style;
    style.major = SymbolStyle::Major::Triangle;
    style.minor = SymbolStyle::Minor::Dash;
    style.accidentals = SymbolStyle::Accidentals::Signs;
    const std::string text = write_tune(chart, style);
    INFO(text);
    CHECK(text.find("A-7") != std::string::npos);
    CHECK(text.find("B\u266D7") != std::string::npos);
    CHECK(dump(read(text)) == dump(chart));
}

TEST_CASE("what a text chart cannot hold is told", "[chart][tune]") {
    Chart chart = read("| C |");
    CHECK(lost_in_tune(chart).empty());
    chart.sections[0].bars[0].melody.push_back({Position{}, kWhole, Pitch{kC, 5}});
    CHECK(lost_in_tune(chart) == std::vector<std::string>{"the melody"});
}

TEST_CASE("only headers that are read back are written; the others are told", "[chart][tune]") {
    Chart chart = read("Played by: us; and you\n| C |");
    for (const char* name : {"| F |", "a:b", "Key", "Tittle", "; no", "-x", "two\nlines", "",
                             "a very long name of a header that nobody would ever type in a chart"}) {
        chart.other_headers.emplace_back(name, "text");
    }
    chart.other_headers.emplace_back("Words", "la: la |");
    const std::string text = write_tune(chart);
    INFO(text);
    Diagnostics diagnostics;
    const auto again = try_read(text, diagnostics);
    REQUIRE(again);
    CHECK_FALSE(diagnostics.has_errors());
    CHECK(again->other_headers == std::vector<std::pair<std::string, std::string>>{
                                      {"Played by", "us; and you"}, {"Words", "la: la |"}});
    CHECK(lost_in_tune(chart).size() == 9);
    CHECK(lost_in_tune(chart).front() == "the header '| F |'");
}

TEST_CASE("reading stops after a hundred faults, and says so", "[chart][tune]") {
    Diagnostics diagnostics;
    CHECK(!try_read(repeated("| Qx | Zz |\n", 5'000), diagnostics));
    CHECK(diagnostics.all().size() == kMostMessages + 1);
    CHECK(diagnostics.all().back().message == "too many faults; the rest is not shown");
}

TEST_CASE("a chart with hundreds of warnings is read", "[chart][tune]") {
    Diagnostics diagnostics;
    CHECK(try_read(repeated("Played by: us\n", 3 * kMostMessages) + "| C |\n", diagnostics));
    CHECK(diagnostics.all().size() == kMostMessages + 1);
}

TEST_CASE("texts that nobody has typed are refused at once", "[chart][tune]") {
    const auto refusal = [](const std::string& text) {
        Diagnostics diagnostics;
        CHECK(!try_read(text, diagnostics));
        CHECK(diagnostics.all().size() == 1);
        return diagnostics.all().front().message;
    };
    CHECK(refusal("| C |\n" + repeated("| C ", 20'000)) == "this line is longer than 20000 bytes");
    CHECK(refusal(repeated("| C |\n", 800'000)) == "this text is larger than 4 MiB; no chart is");
    CHECK(refusal(repeated("| C | C | C | C | C |\n", 45'000)) == "more than 200000 bars");
}

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

// Source: charts of the Weimar Jazz Database in two forms made by another program; read where they are.
TEST_CASE("plain text charts and their JSON twins are the same tune", "[chart][tune]") {
    const std::string folder = std::string{SHEDBOOK_SHARED_DIR} + "/reference/solos/charts";
    if (!std::filesystem::exists(folder)) {
        WARN("skipped: the folder of plain charts is not there (" << folder << ")");
        return;
    }
    int compared = 0;
    for (const auto& entry : std::filesystem::directory_iterator{folder}) {
        if (entry.path().extension() != ".txt") continue;
        const std::string twin = entry.path().parent_path() / (entry.path().stem().string() + ".json");
        INFO(entry.path());
        Diagnostics diagnostics;
        const auto text = read_chart(entry.path(), read_file(entry.path()), {}, diagnostics);
        const auto json = read_chart(twin, read_file(twin), {}, diagnostics);
        REQUIRE(text);
        REQUIRE(json);
        CHECK(text->id == json->id);
        CHECK(text->meter == json->meter);
        const auto one = unfold(*text, diagnostics);
        const auto other = unfold(*json, diagnostics);
        REQUIRE(one);
        REQUIRE(other);
        CHECK(dump(*one) == dump(*other));
        CHECK(!diagnostics.has_errors());
        ++compared;
    }
    CHECK(compared > 0);
}

}  // namespace shedbook
