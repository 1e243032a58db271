#include "shedbook/book/grading.h"

#include <catch2/catch.hpp>
#include <sstream>

namespace shedbook {

TEST_CASE("figures of a bar counted by hand", "[book]") {
    // F4 (eighth) C5 (eighth) B4 with a natural (quarter), then a rest, then a tied pair.
    ScoreNotes score;
    ScoreNotesBar& bar = score.bars.emplace_back();
    bar.key_fifths = -1;
    bar.words = {"F7: F Mixolydian"};
    const auto add = [&](const char* pitch, Rational at, Duration length, bool accidental) {
        ScoreNote note;
        note.written = *parse_pitch(pitch);
        note.at = Position{at};
        note.length = length;
        note.shows_accidental = accidental;
        bar.notes.push_back(note);
    };
    add("F4", {}, kEighth, false);
    add("C5", Rational{1, 8}, kEighth, false);
    add("B4", Rational{1, 4}, kQuarter, true);
    add("G5", Rational{3, 4}, kQuarter, false);
    const Grading g = grade(score);
    CHECK(g.notes == 4);
    CHECK(g.range == 14);
    CHECK(g.largest_leap == 7);  // F to C; B to G lies across a rest
    CHECK(g.mean_leap == Approx(4.0));
    CHECK(g.most_accidentals == 2);
    CHECK(g.most_notes_a_beat == 2);
    CHECK(g.mean_notes_a_beat == Approx(4.0 / 3));
    CHECK(g.distinct_scales == 1);
    std::ostringstream out;
    write_grading(g, out);
    CHECK(out.str().find("F4 to G5, 14 semitones") != std::string::npos);
}

TEST_CASE("notes beside the beat and its half are counted by the beat of the meter", "[book]") {
    const auto off_beat = [](const Meter& meter, const std::vector<Rational>& places) {
        ScoreNotes score;
        ScoreNotesBar& bar = score.bars.emplace_back();
        bar.meter = meter;
        for (const Rational at : places) {
            ScoreNote note;
            note.written = *parse_pitch("C5");
            note.at = Position{at};
            note.length = Duration{Rational{1, 16}};
            bar.notes.push_back(note);
        }
        return grade(score).off_beat_percent;
    };
    CHECK(off_beat(Meter{4, 4}, {{0}, {1, 8}, {1, 4}, {5, 8}}) == 0);
    CHECK(off_beat(Meter{4, 4}, {{0}, {1, 16}, {1, 8}, {1, 4}}) == 25);
    // Half a dotted quarter is three sixteenths.
    CHECK(off_beat(Meter{6, 8}, {{0}, {3, 16}, {3, 8}, {1, 8}, {1, 4}}) == 40);
}

}  // namespace shedbook
