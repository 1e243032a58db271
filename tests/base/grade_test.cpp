#include "shedbook/base/grade.h"

#include <catch2/catch.hpp>

using namespace shedbook;

// The borders are those of docs/units.md (common practice, no source).
TEST_CASE("a difficulty is called by the word of its points", "[base]") {
    CHECK(to_word(grade_of(0)) == "easy");
    CHECK(to_word(grade_of(14)) == "easy");
    CHECK(to_word(grade_of(15)) == "light");
    CHECK(to_word(grade_of(21)) == "light");
    CHECK(to_word(grade_of(22)) == "medium");
    CHECK(to_word(grade_of(30)) == "medium");
    CHECK(to_word(grade_of(31)) == "hard");
    CHECK(to_word(grade_of(100)) == "hard");
}
