#include "shedbook/base/diagnostics.h"

#include <catch2/catch.hpp>

#include "shedbook/base/text.h"

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

TEST_CASE("after a hundred errors one message says that the rest is not shown", "[base]") {
    const SourceText source{"a.tune", std::string(4'000'000, 'x')};
    Diagnostics diagnostics;
    for (std::size_t i = 0; i < 300'000; ++i) diagnostics.error(source, {3'999'990, 3'999'991}, "wrong");
    diagnostics.warning(source, {0, 1}, "odd");
    REQUIRE(diagnostics.all().size() == kMostMessages + 1);
    CHECK(diagnostics.all().back().message == "too many faults; the rest is not shown");
    CHECK(diagnostics.error_count() == 300'000);
    CHECK(diagnostics.is_full());
}

TEST_CASE("a hundred warnings hide no error, and are none", "[base]") {
    Diagnostics diagnostics;
    for (std::size_t i = 0; i < 2 * kMostMessages; ++i) diagnostics.warning_at("a", "odd");
    REQUIRE(diagnostics.all().size() == kMostMessages + 1);
    CHECK(diagnostics.all().back().message == "too many warnings; the rest is not shown");
    CHECK_FALSE(diagnostics.has_errors());
    diagnostics.error_at("a", "wrong");
    CHECK(diagnostics.all().back().message == "wrong");
    CHECK(diagnostics.has_errors());
}

// ECMA-48 (5th edition, 1991), 5.2 and 5.3: a terminal takes the characters U+0000 to U+001F, U+007F and
// U+0080 to U+009F as commands.
TEST_CASE("what a chart says cannot command the terminal, and the caret stays below it", "[base]") {
    const SourceText source{"a\x1B.tune", "\t\x1B[31m\xC2\x9B\x9Bq \u266D"};
    Diagnostics diagnostics;
    diagnostics.error(source, {9, 10}, "no chord is called '\x1B[31mq'", "\x07");
    CHECK(render(diagnostics.all()[0]) ==
          "a?.tune:1:9: error: no chord is called '?[31mq'\n"
          "    \t?[31m??q \u266D\n"
          "    \t       ^\n"
          "    ?\n");
}

}  // namespace shedbook
