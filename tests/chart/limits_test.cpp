// Every limit at its boundary: what is just allowed is read, one more is refused with a word of why.
#include "shedbook/chart/limits.h"

#include <catch2/catch.hpp>

#include "chart/typed_chart.h"
#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {
namespace {

// "read", or the first message.
std::string read_as(const char* name, const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_chart(name, text, {}, diagnostics);
    if (diagnostics.all().empty()) return chart ? "read" : "nothing";
    return diagnostics.all().front().message;
}

std::string read_tune_text(const std::string& text) {
    return read_as("x.tune", text);
}

std::string unfolded(const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_chart("x.tune", text, {}, diagnostics);
    if (chart && unfold(*chart, diagnostics)) return "read";
    return diagnostics.all().empty() ? "nothing" : diagnostics.all().front().message;
}

// A bar with so many chords, each at its own place.
std::string crowded_bar(int chords) {
    std::string out = "|";
    for (int i = 0; i < chords; ++i)
        out += " " + std::to_string(1 + i / 256) + "+" + std::to_string(i % 256) + "/256:C";
    return out + " |\n";
}

std::string score_with(const std::string& more) {
    return "<score-partwise><part-list/><part id=\"P1\"><measure><attributes>" + more +
           "</attributes><harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
           "<note><rest/><duration>4</duration></note></measure></part></score-partwise>";
}

}  // namespace

TEST_CASE("a text chart may be so large, and its lines so long", "[chart][limits]") {
    const std::string bars = "| C |\n";
    std::string full = bars;
    while (full.size() < kLargestTextChart) {
        const std::size_t room = kLargestTextChart - full.size();
        full += ";" + std::string(std::min<std::size_t>(room, 10'000) - 1, 'x');
        if (full.size() < kLargestTextChart) full.back() = '\n';
    }
    REQUIRE(full.size() == kLargestTextChart);
    CHECK(read_tune_text(full) == "read");
    CHECK(read_tune_text(full + "x") == "this text is larger than 4 MiB; no chart is");
    CHECK(read_tune_text(bars + ";" + std::string(kLongestChartLine - 1, 'x') + "\n") == "read");
    CHECK(read_tune_text(bars + ";" + std::string(kLongestChartLine, 'x') + "\n") ==
          "this line is longer than 20000 bytes");
}

TEST_CASE("an ABC tune may be so large", "[chart][limits]") {
    const std::string tune = "X:1\nK:C\n\"C\"c4|\n";
    const std::string full = tune + "%" + std::string(kLargestAbc - tune.size() - 1, 'x');
    CHECK(read_as("x.abc", full) == "read");
    CHECK(read_as("x.abc", full + "x") == "this text is larger than 1 MiB; no tune is");
}

TEST_CASE("a chart may have so many bars", "[chart][limits]") {
    const std::string full = repeated("| C | F | G | C |\n", kMostWrittenBars / 4);
    CHECK(read_tune_text(full) == "read");
    CHECK(read_tune_text(full + "| C |\n") == "more than 200000 bars");
}

TEST_CASE("a bar may be so long and have so many chords", "[chart][limits]") {
    CHECK(read_tune_text("| lasts 100/1 C |\n") == "read");
    CHECK(read_tune_text("| lasts 101/1 C |\n") == "this bar lasts 101 whole notes");
    CHECK(read_tune_text("| lasts 201/2 C |\n") == "this bar lasts 201/2 whole notes");
    CHECK(read_tune_text(crowded_bar(kMostChordsInBar)) == "read");
    CHECK(read_tune_text(crowded_bar(kMostChordsInBar + 1)) == "more than 1024 chords in one bar");
}

TEST_CASE("places may be so fine, each by itself and all together", "[chart][limits]") {
    CHECK(read_tune_text("| C 2+1/480:F |\n") == "read");
    CHECK(read_tune_text("| C 1+1/481:F |\n") ==
          "the place of 'F' is counted in parts of 1/1924 of a whole note, which is too fine");
    // 1920 = 2^7 * 3 * 5, and 63 = 3^2 * 7: together 40320 parts.
    const std::string together = "| C 2+1/480:F | lasts 1/63 G |\n";
    CHECK(read_tune_text(together) == "read");
    CHECK(read_tune_text(together + "| lasts 1/2 A | lasts 1/11 G |\n") ==
          "the length of this bar is counted in parts of 1/11 of a whole note, which do not go together with "
          "the times before");
}

TEST_CASE("a tempo may be so slow and so fast, in every form", "[chart][limits]") {
    const auto in_text = [](const char* tempo) {
        return read_tune_text("Tempo: " + std::string{tempo} + "\n| C |\n");
    };
    CHECK(in_text("10") == "read");
    CHECK(in_text("600") == "read");
    CHECK(in_text("9") == "'9' is no tempo");
    CHECK(in_text("601") == "'601' is no tempo");
    const auto in_json = [](const char* tempo) {
        return read_as("x.json",
                       "{\"tempo\":" + std::string{tempo} + ",\"sections\":[{\"bars\":[[\"C\"]]}]}");
    };
    CHECK(in_json("10") == "read");
    CHECK(in_json("600") == "read");
    CHECK(in_json("9") == "this is no tempo");
    CHECK(in_json("601") == "this is no tempo");
    const auto in_score = [](const char* tempo) {
        Diagnostics diagnostics;
        const auto chart = read_lead_sheet("x",
                                           score_with("<divisions>1</divisions></attributes><sound tempo=\"" +
                                                      std::string{tempo} + "\"/><attributes>"),
                                           {}, diagnostics);
        REQUIRE(chart);
        return chart->tempo;
    };
    CHECK(in_score("10") == 10);
    CHECK(in_score("600") == 600);
    CHECK_FALSE(in_score("9").has_value());
    CHECK_FALSE(in_score("601").has_value());
}

TEST_CASE("a passage may be played so often, and an ending have so high a number", "[chart][limits]") {
    CHECK(read_tune_text("|: C :| x2\n") == "read");
    CHECK(read_tune_text("|: C :| x99\n") == "read");
    CHECK(read_tune_text("|: C :| x1\n") == "a passage is played 2 to 99 times");
    CHECK(read_tune_text("|: C :| x100\n") == "a passage is played 2 to 99 times");
    CHECK(read_tune_text("|: C |1-98. F :|99. G |\n") == "read");
    CHECK(read_tune_text("|: C |1-99. F :|100. G |\n") == "endings are numbered from 1 to 99");
    const auto ending = [](const char* number) {
        return read_as("x.json",
                       "{\"sections\":[{\"bars\":[{\"chords\":[\"C\"],\"repeat\":\"end\",\"ending\":" +
                           std::string{number} + "}]}]}");
    };
    CHECK(ending("99") == "read");
    CHECK(ending("0") == "endings are numbered from 1 to 99");
    CHECK(ending("100") == "endings are numbered from 1 to 99");
}

TEST_CASE("a tune may be played for so many bars and so long", "[chart][limits]") {
    const std::string bars = "|: " + repeated("C | F |\n", 1999) + " C | F :| x50\n";
    REQUIRE(4000 * 50 == kMostPlayedBars);
    CHECK(unfolded(bars) == "read");
    CHECK(unfolded(bars + "| C |\n") == "more than 200,000 bars would be played");
    const std::string lengthy = "|: " + repeated("lasts 100/1 C |\n", 39) + " lasts 100/1 F :| x50\n";
    REQUIRE(100 * 40 * 50 == kLongestPlay);
    CHECK(unfolded(lengthy) == "read");
    CHECK(unfolded(lengthy + "| lasts 1/4 C |\n") == "more than 200000 whole notes with all repeats");
}

TEST_CASE("a score may be so deep and have so many elements", "[chart][limits]") {
    const auto nested = [](int depth) {
        return read_as("x.xml", "<score-partwise>" + repeated("<a>", depth - 1) +
                                    repeated("</a>", depth - 1) + "</score-partwise>");
    };
    CHECK(nested(kDeepestXml) == "the score has no measures");
    CHECK(nested(kDeepestXml + 1) == "elements within elements, more than 100 deep");
    const auto wide = [](std::size_t elements) {
        return read_as("x.xml", "<score-partwise>" + repeated("<a/>", elements - 1) + "</score-partwise>");
    };
    CHECK(wide(kMostXmlNodes) == "the score has no measures");
    CHECK(wide(kMostXmlNodes + 1) == "more than 1500000 elements and attributes");
}

TEST_CASE("a quarter may have so many divisions", "[chart][limits]") {
    const auto divisions = [](int count) {
        Diagnostics diagnostics;
        const auto chart = read_lead_sheet(
            "x", score_with("<divisions>" + std::to_string(count) + "</divisions>"), {}, diagnostics);
        return diagnostics.all().empty() ? std::string{"read"} : diagnostics.all().front().message;
    };
    CHECK(divisions(1) == "read");
    CHECK(divisions(0) == "a quarter cannot have '0' divisions");
    CHECK(divisions(kMostDivisions + 1) == "a quarter cannot have '1000001' divisions");
    // Taken as they are: too fine for paper then, and no word of divisions.
    CHECK(divisions(kMostDivisions) ==
          "the length of this bar is counted in parts of 1/1000000 of a whole note, which is too fine");
}

}  // namespace shedbook
