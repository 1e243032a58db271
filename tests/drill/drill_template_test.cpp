#include "shedbook/drill/drill_template.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>

namespace shedbook {

TEST_CASE("the shipped drills are read without a fault", "[drill]") {
    std::ifstream file{std::string{SHEDBOOK_SOURCE_DIR} + "/templates/drills.toml"};
    REQUIRE(file);
    const std::string text{std::istreambuf_iterator<char>{file}, {}};
    Diagnostics diagnostics;
    const auto list = read_drill_templates(SourceText{"drills.toml", text}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) UNSCOPED_INFO(render(diagnostic));
    CHECK_FALSE(diagnostics.has_errors());
    CHECK(list.size() == drill_templates().size());
    for (const DrillTemplate& drill : list) {
        // Read by itself, as a book does, it is the same as in the whole file.
        REQUIRE(find_drill(drill.id) != nullptr);
        CHECK(*find_drill(drill.id) == drill);
        CHECK_FALSE(drill.about.empty());
    }
    CHECK(find_drill("Groups of four")->id == "groups-of-four");
    CHECK(find_drill("nonsense") == nullptr);
}

TEST_CASE("every fault of a template is reported at its place in one run", "[drill]") {
    const SourceText source{"mine.toml",
                            "[[drill]]\n"
                            "id = \"mine\"\n"
                            "title = \"Mine\"\n"
                            "risng = \"1 3\"\n"
                            "rising = \"1 x3\"\n"
                            "up = \"bottom top\"\n"
                            "rhythm = \"eigths\"\n"
                            "level = 9\n"};
    Diagnostics diagnostics;
    CHECK(read_drill_templates(source, diagnostics).empty());
    REQUIRE(diagnostics.all().size() == 5);
    CHECK(render(diagnostics.all()[0]) ==
          "mine.toml:4:9: error: a drill has no field 'risng'\n"
          "    risng = \"1 3\"\n"
          "            ^^^^^\n"
          "    did you mean 'rising'?\n");
    CHECK(diagnostics.all()[1].message == "'level' must be a number from 1 to 6");
    CHECK(render(diagnostics.all()[2]) ==
          "mine.toml:7:10: error: no rhythm is called 'eigths'\n"
          "    rhythm = \"eigths\"\n"
          "             ^^^^^^^^\n"
          "    did you mean 'eighths'?\n");
    CHECK(
        render(diagnostics.all()[3]) ==
        "mine.toml:5:13: error: 'x3' is no note of a cell\n"
        "    rising = \"1 x3\"\n"
        "                ^^\n"
        "    write degrees (1 3 -2 2'), chord tones (c1 c2), neighbours (half-below:next) or runs (run:1)\n");
}

TEST_CASE("two drills of one name are refused", "[drill]") {
    const std::string one = "[[drill]]\nid = \"a\"\ntitle = \"A\"\nrising = \"1\"\n";
    Diagnostics diagnostics;
    CHECK(read_drill_templates(SourceText{"mine.toml", one + one}, diagnostics).size() == 1);
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.all()[0].message == "two drills are called 'a'");
}

}  // namespace shedbook
