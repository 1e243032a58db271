#include "shedbook/chart/readers.h"

#include <catch2/catch.hpp>
#include <set>

namespace shedbook {

TEST_CASE("every form of tune file has an ending of its own, which help texts name", "[chart]") {
    std::set<std::string_view> seen;
    std::string named;
    for (const ChartReader& reader : chart_readers()) {
        INFO(reader.ending);
        CHECK(reader.ending.starts_with('.'));
        CHECK_FALSE(reader.about.empty());
        CHECK(seen.insert(reader.ending).second);
        named += std::string{reader.ending} + "+";
    }
    CHECK(named == ".tune+.txt+.json+.musicxml+.xml+.mxl+.abc+");
    CHECK(chart_endings() == ".tune, .txt, .json, .musicxml, .xml, .mxl or .abc");
}

TEST_CASE("a file without a name for itself is called by its own, standard input a tune", "[chart]") {
    Diagnostics diagnostics;
    CHECK(read_chart("a/b.c.tune", "| C |\n", {}, diagnostics)->name() == "b.c");
    CHECK(read_chart("-", "| C |\n", {}, diagnostics)->name() == "tune");
}

}  // namespace shedbook
