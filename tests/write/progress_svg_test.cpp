#include "shedbook/write/progress_svg.h"

#include <catch2/catch.hpp>
#include <sstream>
#include <string>

#include "count_text.h"

namespace shedbook {

TEST_CASE("tempos over days tell clean from not clean and from memory by their shape", "[write]") {
    TempoChart chart{"F Lydian & more", "2026-11-01", "2026-11-11", 10, {}};
    chart.lines.push_back(
        {"thirds", 100, {{0, 80, true, false}, {5, 92, false, false}, {10, 100, true, true}}});
    std::ostringstream out;
    write_tempo_chart(chart, out);
    const std::string svg = out.str();
    CHECK(count(svg, "fill=\"black\"/>") == 2);
    CHECK(count(svg, "fill=\"white\"/>") == 2);  // the page, and a ring
    CHECK(count(svg, "stroke-width=\"1.6\"") == 2);
    CHECK(count(svg, ">goal<") == 1);
    CHECK(count(svg, "F Lydian &amp; more") == 1);
    CHECK(count(svg, "2026-11-11") == 1);
}

TEST_CASE("a line of one entry, and one without a tempo, can be drawn", "[write]") {
    TempoChart chart{"C Dorian", "2026-11-01", "2026-11-01", 0, {}};
    chart.lines.push_back({"thirds", 0, {{0, 80, true, false}}});
    chart.lines.push_back({"triads", 0, {{0, 0, false, false}}});
    std::ostringstream out;
    write_tempo_chart(chart, out);
    CHECK(count(out.str(), "fill=\"black\"/>") == 1);
    CHECK(count(out.str(), "nan") == 0);
}

TEST_CASE("a map of keys has a letter in each cell that is known, and a point in the others", "[write]") {
    KeyMap map{"All", "about", {"C", "F", "Bb"}, {}};
    map.rows.push_back({"Dorian", {{true, 50, "t"}, {false, 0, ""}, {true, 100, "f"}}});
    std::ostringstream out;
    write_key_map(map, out);
    CHECK(count(out.str(), ">t<") == 1);
    CHECK(count(out.str(), ">f<") == 1);
    CHECK(count(out.str(), ">\u00B7<") == 1);
    CHECK(count(out.str(), "<rect") == 3);  // the page and two fillings
}

}  // namespace shedbook
