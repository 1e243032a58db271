#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "chart/dump.h"
#include "chart/random_chart.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

std::string messages(const Diagnostics& diagnostics) {
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

std::set<std::string> sample_charts() {
    std::set<std::string> out;
    for (const auto& entry :
         std::filesystem::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts"}) {
        if (entry.path().extension() == ".tune") out.insert(entry.path().string());
    }
    return out;
}

}  // namespace

TEST_CASE("a text chart holds all of a generated chart, and writing it again gives the same text",
          "[chart][property]") {
    for (std::uint32_t seed = 0; seed < 300; ++seed) {
        const Chart chart = random_chart(seed);
        const std::string text = write_tune(chart);
        Diagnostics diagnostics;
        const auto again = read_tune(SourceText{"random.tune", text}, diagnostics);
        INFO("seed " << seed << "\n" << text << messages(diagnostics));
        REQUIRE(again);
        REQUIRE(dump(*again) == dump(chart));
        REQUIRE(write_tune(*again) == text);
    }
}

TEST_CASE("a JSON chart holds all of a generated chart, melody included", "[chart][property]") {
    for (std::uint32_t seed = 0; seed < 120; ++seed) {
        RandomChartOptions options;
        options.has_melody = seed % 2 == 1;
        const Chart chart = random_chart(seed, options);
        Diagnostics diagnostics;
        const std::string text = write_chart_json(chart, diagnostics);
        const auto again = read_chart_json(SourceText{"random.json", text}, diagnostics);
        INFO("seed " << seed << "\n" << text << messages(diagnostics));
        REQUIRE(again);
        REQUIRE(dump(*again) == dump(chart));
        REQUIRE(write_chart_json(*again, diagnostics) == text);
    }
}

TEST_CASE("a chart read from JSON and from text is played alike", "[chart][property]") {
    for (std::uint32_t seed = 0; seed < 80; ++seed) {
        Diagnostics diagnostics;
        const Chart chart = random_chart(seed);
        const auto from_text = read_tune(SourceText{"random.tune", write_tune(chart)}, diagnostics);
        const auto from_json =
            read_chart_json(SourceText{"random.json", write_chart_json(chart, diagnostics)}, diagnostics);
        REQUIRE(from_text);
        REQUIRE(from_json);
        const auto one = unfold(*from_text, diagnostics);
        const auto other = unfold(*from_json, diagnostics);
        REQUIRE(one);
        REQUIRE(other);
        REQUIRE(dump(*one) == dump(*other));
    }
}

TEST_CASE("sample charts are read without a word, are tidy, and are played to their end",
          "[chart][samples]") {
    const std::set<std::string> files = sample_charts();
    CHECK(files.size() >= 16);
    for (const std::string& file : files) {
        const std::string text = read_file(file);
        Diagnostics diagnostics;
        const auto chart = read_chart(file, text, {}, diagnostics);
        INFO(file << "\n" << messages(diagnostics));
        REQUIRE(chart);
        CHECK(diagnostics.all().empty());
        CHECK(write_tune(*chart) == text);
        CHECK(chart->key);
        CHECK(chart->meter);
        CHECK(chart->tempo);
        const auto timeline = unfold(*chart, diagnostics);
        REQUIRE(timeline);
        CHECK(!timeline->chords.empty());
    }
}

}  // namespace shedbook
