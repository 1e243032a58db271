#include "shedbook/etude/through_changes.h"

#include <catch2/catch.hpp>

#include "grounds.h"

namespace shedbook {

TEST_CASE("an unbroken line goes through every change, each note in its own scale", "[etude]") {
    const EtudeGround ground = ground_of_bars("| Dm7 | G7 | C | A7(b9) |");
    const PitchRange range{*parse_pitch("G3"), *parse_pitch("D5")};
    const ConcertLine line = unbroken_scale_line(ground.spans, range);
    CHECK(line.length == ground.length);
    REQUIRE(line.notes.size() > 24);
    Position at;
    for (const LineNote& note : line.notes) {
        CHECK(note.at == at);
        at += note.length;
        CHECK(range.holds(note.pitch));
        CHECK(has_note(span_at(ground, note.at).notes, note.pitch));
    }
    CHECK(at == Position{} + ground.length);
    const ConcertLine slow = unbroken_scale_line(ground.spans, range, kQuarter);
    CHECK(slow.notes.front().length == kQuarter);
    CHECK(slow.notes.size() <= 16);
}

TEST_CASE("an unbroken line rests where there is no chord", "[etude]") {
    const EtudeGround ground = ground_of_bars("| C | N.C. | F |");
    const ConcertLine line = unbroken_scale_line(ground.spans, {*parse_pitch("C4"), *parse_pitch("C5")});
    const Position rest_begins{Rational{1}};
    const Position rest_ends{Rational{2}};
    int before = 0;
    int after = 0;
    for (const LineNote& note : line.notes) {
        const bool is_before = note.at + note.length <= rest_begins;
        CHECK((is_before || note.at >= rest_ends));
        (is_before ? before : after) += 1;
    }
    CHECK(before > 4);
    CHECK(after > 4);
}

}  // namespace shedbook
