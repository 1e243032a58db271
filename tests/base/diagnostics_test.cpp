#include "shedbook/base/diagnostics.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("a message shows its place, the line, a caret run and a hint", "[base]") {
    const SourceText source{"waltz.tune", "Title: A\n\n| Dm7 | Gx7 |\n"};
    Diagnostics diagnostics;
    diagnostics.error(source, {18, 21}, "no chord is called 'Gx7'", "did you mean 'G7'?");
    REQUIRE(diagnostics.all().size() == 1);
    CHECK(diagnostics.has_errors());
    CHECK(render(diagnostics.all()[0]) ==
          "waltz.tune:3:9: error: no chord is called 'Gx7'\n"
          "    | Dm7 | Gx7 |\n"
          "            ^^^\n"
          "    did you mean 'G7'?\n");
}

TEST_CASE("columns count characters, and tabs are kept under the line", "[base]") {
    const SourceText source{"a.tune", "\t\u266D\u266D x"};
    CHECK(source.place_of(8).column == 5);
    Diagnostics diagnostics;
    diagnostics.warning(source, {8, 9}, "here");
    CHECK(render(diagnostics.all()[0]) == "a.tune:1:5: warning: here\n    \t\u266D\u266D x\n    \t   ^\n");
    CHECK_FALSE(diagnostics.has_errors());
}

TEST_CASE("a place at the end, behind it, or in a line without end is shown all the same", "[base]") {
    Diagnostics diagnostics;
    diagnostics.error(SourceText{"a", ""}, {0, 0}, "empty");
    diagnostics.error(SourceText{"a", "ab"}, {2, 9}, "end");
    diagnostics.error(SourceText{"a", "ab"}, {50, 60}, "far behind");
    diagnostics.error(SourceText{"a", std::string(100'000, 'x')}, {90'000, 90'003}, "long");
    diagnostics.error(SourceText{"a", std::string(2'000, '\x80')}, {1'500, 1'501}, "no text at all");
    diagnostics.error(SourceText{"a", "line\r\nnext\r\n"}, {0, 4}, "windows");
    CHECK(diagnostics.all().size() == 6);
    CHECK(diagnostics.all()[3].line.size() <= 400);
    CHECK(diagnostics.all()[3].marker.find('^') != std::string::npos);
    CHECK(diagnostics.all()[5].line == "line");
}

}  // namespace shedbook
