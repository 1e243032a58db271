#include "shedbook/etude/ground.h"

#include <catch2/catch.hpp>

#include "grounds.h"

namespace shedbook {

TEST_CASE("a ground has its bars and chords without gaps, a rest where there is no chord", "[etude]") {
    const EtudeGround ground = ground_of_bars("| Dm7 G7 | N.C. | C |");
    REQUIRE(ground.spans.size() == 4);
    REQUIRE(ground.bars.size() == 3);
    Position at;
    for (const ScaleSpan& span : ground.spans) {
        CHECK(span.at == at);
        at += span.length;
    }
    CHECK(at == Position{} + ground.length);
    CHECK(ground.spans[2].notes.empty());
    CHECK_FALSE(ground.spans[2].symbol.has_value());
    CHECK(ground.spans[1].chord.front() == *parse_pitch_class("G"));
    CHECK(has_chords(ground));
    CHECK_FALSE(has_chords(ground_of_bars("| N.C. | % |")));
}

TEST_CASE("some bars, as often as they are played, follow each other", "[etude]") {
    const EtudeGround ground =
        ground_of_bars("| Dm7 | G7 | C | A7 |", {.bars = std::pair{2, 3}, .choruses = 3});
    REQUIRE(ground.bars.size() == 6);
    CHECK(ground.choruses == 3);
    CHECK(ground.length == Duration{Rational{6}});
    REQUIRE(ground.symbols.size() == 6);
    CHECK(to_string(*ground.symbols[4].symbol) == "G7");
    CHECK(ground.symbols[4].at == Position{Rational{4}});
}

TEST_CASE("a pickup, with or without a chord, has no bar in an etude", "[etude]") {
    for (const char* bars : {"| pickup / G7 | C | F |", "| pickup 1/4 | C | F |"}) {
        const EtudeGround ground = ground_of_bars(bars, {.choruses = 2});
        REQUIRE(ground.bars.size() == 4);
        CHECK(ground.bars[0].number == 1);
        CHECK(to_string(*ground.symbols.front().symbol) == "C");
        Position at;
        for (const ScaleSpan& span : ground.spans) {
            CHECK(span.at == at);
            at += span.length;
            CHECK_FALSE(span.notes.empty());
        }
        CHECK(at == Position{Rational{4}});
    }
}

TEST_CASE("a chorus begins with its chord, also where the one before ended on it", "[etude]") {
    const EtudeGround twice =
        ground_of_bars("Title: Loop\nKey: C\n| Cm7 | F7 | Cm7 |\n", {.bars = std::pair{1, 3}, .choruses = 2});
    REQUIRE(twice.symbols.size() == 6);
    CHECK(twice.symbols[3].at == twice.bars[3].at);
    CHECK(twice.symbols[3].symbol == twice.symbols[2].symbol);
}

}  // namespace shedbook
