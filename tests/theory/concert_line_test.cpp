#include "shedbook/theory/concert_line.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("a line is moved with every note, and nothing else of it changes", "[theory]") {
    ConcertLine line;
    line.notes.push_back({*parse_pitch("Eb4"), Position{}, kEighth, Articulation::Accent});
    line.notes.push_back({*parse_pitch("G4"), Position{} + kQuarter, kEighth});
    line.texts.push_back({Position{}, "target"});
    line.length = kHalf;
    const ConcertLine up = transposed(line, kMajorSecond);
    CHECK(to_string(up.notes[0].pitch) == "F4");
    CHECK(to_string(up.notes[1].pitch) == "A4");
    CHECK(up.notes[0].articulation == Articulation::Accent);
    CHECK(up.notes[1].at == line.notes[1].at);
    CHECK(up.texts == line.texts);
    CHECK(up.length == kHalf);
    CHECK(transposed(up, -kMajorSecond).notes == line.notes);
}

TEST_CASE("a line is within a range that holds its lowest and its highest note", "[theory]") {
    ConcertLine line;
    line.notes.push_back({*parse_pitch("C4"), Position{}, kEighth});
    line.notes.push_back({*parse_pitch("G4"), Position{} + kEighth, kEighth});
    CHECK(is_within(line, {*parse_pitch("C4"), *parse_pitch("G4")}));
    CHECK_FALSE(is_within(line, {*parse_pitch("C#4"), *parse_pitch("G4")}));
    CHECK_FALSE(is_within(line, {*parse_pitch("C4"), *parse_pitch("F#4")}));
    CHECK(is_within(ConcertLine{}, {*parse_pitch("C4"), *parse_pitch("C4")}));
}

}  // namespace shedbook
