#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "chart/dump.h"
#include "chart/typed_chart.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
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
