#include "shedbook/chart/chart.h"

#include <catch2/catch.hpp>

#include "chart/dump.h"
#include "chart/random_chart.h"
#include "shedbook/chart/readers.h"

namespace shedbook {

TEST_CASE("a tune is called by its title, else by its file, and always by something", "[chart]") {
    Chart chart;
    CHECK(chart.name() == "this tune");
    chart.id = "cellar";
    CHECK(chart.name() == "cellar");
    chart.title = "Cellar Steps";
    CHECK(chart.name() == "Cellar Steps");
}

TEST_CASE("moving a chart by an interval and back changes nothing", "[chart][property]") {
    RandomChartOptions options;
    options.has_melody = true;
    for (std::uint32_t seed = 0; seed < 60; ++seed) {
        const Chart chart = random_chart(seed, options);
        for (const Interval by : {kMinorThird, kPerfectFifth, -kMajorSecond, kOctave}) {
            REQUIRE(dump(transposed(transposed(chart, by), -by)) == dump(chart));
        }
    }
}

TEST_CASE("moving a chart moves key, chords, scales and melody alike", "[chart]") {
    Diagnostics diagnostics;
    auto chart =
        read_tune(SourceText{"a.tune", "Key: Bb\n| Cm7/Bb F7[F altered] | key Gm D7 |\n"}, diagnostics);
    REQUIRE(chart);
    chart->sections[0].bars[0].melody.push_back({Position{}, kWhole, Pitch{*parse_pitch_class("Eb"), 4}});
    const Chart up = transposed(*chart, kMajorSecond);
    CHECK(to_string(*up.key) == "C major");
    CHECK(chords_of(up) == "Dm7/C G7@3 takes G altered | E7");
    CHECK(to_string(*up.sections[0].bars[1].key) == "A minor");
    CHECK(to_string(*up.sections[0].bars[0].melody[0].pitch) == "F4");
}

TEST_CASE("written bars know their section, their meter, their length and their number", "[chart]") {
    Diagnostics diagnostics;
    const auto chart = read_tune(
        SourceText{"a.tune", "[A]\n| pickup / C |\n| C | 3/4 F |\n[B]\n| lasts 2/4 G |\n"}, diagnostics);
    REQUIRE(chart);
    const std::vector<WrittenBar> bars = written_bars(*chart);
    REQUIRE(bars.size() == 4);
    CHECK(bars[0].length == kHalf);
    CHECK(bars[1].length == kWhole);
    CHECK(bars[2].meter == Meter{3, 4});
    CHECK(bars[2].length == Duration{Rational{3, 4}});
    CHECK(bars[2].section->label == "A");
    CHECK(bars[3].section->label == "B");
    CHECK(bars[3].meter == Meter{3, 4});
    CHECK(bars[3].length == kHalf);
    CHECK(bars[3].index == 3);
}

}  // namespace shedbook
