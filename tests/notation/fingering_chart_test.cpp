#include "shedbook/notation/fingering_chart.h"

#include <catch2/catch.hpp>

#include "shedbook/io/embedded.h"

namespace shedbook {

TEST_CASE("every chart is in order, and every instrument's is there", "[notation]") {
    Diagnostics diagnostics;
    const SourceText source{"fingerings.toml", std::string{embedded_template("fingerings.toml")}};
    CHECK(read_fingering_charts(source, diagnostics).size() == fingering_charts().size());
    CHECK_FALSE(diagnostics.has_errors());
    for (const Instrument& instrument : instruments()) {
        INFO(instrument.id);
        CHECK((fingering_chart_of(instrument) == nullptr) == instrument.fingering.empty());
    }
    CHECK(find_fingering_chart("none") == nullptr);
}

TEST_CASE("every practical note of a brass chart's instruments has its row, low pedals of a horn apart",
          "[notation]") {
    for (const Instrument& instrument : instruments()) {
        const FingeringChart* chart = fingering_chart_of(instrument);
        if (chart == nullptr || chart->by != FingeringChart::By::Note) continue;
        const int lowest = instrument.open.on_paper().midi() + chart->lowest;
        INFO(instrument.id);
        CHECK(instrument.practical.high.on_paper().midi() < lowest + static_cast<int>(chart->notes.size()));
        if (instrument.id != "horn") CHECK(instrument.practical.low.on_paper().midi() >= lowest);
    }
}

TEST_CASE("a faulty chart is reported at its place", "[notation]") {
    Diagnostics diagnostics;
    const SourceText source{
        "mine.toml",
        "[[fingering]]\nid = \"keys\"\nrow = \"keys\"\nby = \"nite\"\nlowest = 0\nnotes = [\"1\"]\n"};
    CHECK(read_fingering_charts(source, diagnostics).empty());
    REQUIRE(diagnostics.has_errors());
    CHECK(render(diagnostics.all().front()).find("did you mean 'note'?") != std::string::npos);
}

}  // namespace shedbook
