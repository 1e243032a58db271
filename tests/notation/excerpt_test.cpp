#include "shedbook/notation/excerpt.h"

#include <catch2/catch.hpp>

#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Three bars of two halves: C in the first bar, F in the middle of the second.
WrittenMusic three_bars() {
    ConcertLine line;
    for (int i = 0; i < 6; ++i)
        line.notes.push_back({*parse_pitch("G4"), Position{} + kHalf * Rational{i}, kHalf});
    line.length = Duration{Rational{3}};
    line.texts = {{Position{}, "one"}, {Position{Rational{2}}, "three"}};
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.chords = {{Position{}, parse_chord_symbol("C")},
                      {Position{Rational{3, 2}}, parse_chord_symbol("F")}};
    return notate(line, options);
}

}  // namespace

TEST_CASE("an excerpt has the bars asked for, with what stands in them", "[notation]") {
    const WrittenMusic out = excerpt(three_bars(), 1, 3);
    REQUIRE(out.measures.size() == 2);
    CHECK(out.events.size() == 4);
    for (const Measure& measure : out.measures) CHECK(out.events_of(measure).size() == 2);
    REQUIRE(out.texts.size() == 1);
    CHECK(out.texts[0].text == "three");
    CHECK(out.texts[0].measure == 1);
}

TEST_CASE("an excerpt names the chord that sounds on from before", "[notation]") {
    const WrittenMusic out = excerpt(three_bars(), 1, 3);
    REQUIRE(out.chords.size() == 2);
    const auto first = out.chords_of(out.measures[0]);
    REQUIRE(first.size() == 2);
    CHECK(first[0].at == 0);
    CHECK(to_string(*first[0].symbol) == "C");
    CHECK(to_string(*first[1].symbol) == "F");
    const WrittenMusic last = excerpt(three_bars(), 2, 3);
    CHECK(last.measures.front().number == 3);
    REQUIRE(last.chords_of(last.measures[0]).size() == 1);
    CHECK(to_string(*last.chords[0].symbol) == "F");
}

TEST_CASE("an excerpt of everything is the piece", "[notation]") {
    const WrittenMusic all = three_bars();
    const WrittenMusic out = excerpt(all, 0, 3);
    CHECK(out.events.size() == all.events.size());
    CHECK(out.chords.size() == all.chords.size());
    CHECK(out.texts.size() == all.texts.size());
}

}  // namespace shedbook
