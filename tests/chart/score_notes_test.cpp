#include "shedbook/chart/score_notes.h"

#include <catch2/catch.hpp>

namespace shedbook {
namespace {

ScoreNotes notes_of(const std::string& measure, Diagnostics& diagnostics) {
    const auto notes = read_score_notes("x.xml",
                                        "<score-partwise><part-list/><part id=\"P1\"><measure>" + measure +
                                            "</measure></part></score-partwise>",
                                        {}, diagnostics);
    REQUIRE(notes);
    REQUIRE(notes->bars.size() == 1);
    return *notes;
}

std::string note(const std::string& step, int duration, const std::string& more = {}) {
    return "<note>" + more + "<pitch><step>" + step + "</step><octave>4</octave></pitch><duration>" +
           std::to_string(duration) + "</duration></note>";
}

// "D4@1/2+1/4", a note each.
std::string places(const ScoreNotesBar& bar) {
    std::string out;
    for (const ScoreNote& each : bar.notes) {
        out += (out.empty() ? "" : " ") + to_string(each.written) + "@" + to_string(each.at.whole_notes) +
               "+" + to_string(each.length.whole_notes);
    }
    return out;
}

}  // namespace

TEST_CASE("notes that no part can have are left out where a score is measured", "[chart][xml]") {
    const std::string score =
        "<score-partwise><part-list/><part id=\"P1\"><measure>"
        "<attributes><divisions>1</divisions><key><fifths>999999</fifths></key></attributes>"
        "<note><pitch><step>C</step><octave>999999999</octave></pitch><duration>2</duration></note>"
        "<attributes><divisions>999999999</divisions></attributes>"
        "<note><pitch><step>D</step><octave>4</octave></pitch><duration>1</duration></note>"
        "<note><pitch><step>E</step><octave>4</octave></pitch><duration>-3</duration></note>"
        "</measure></part></score-partwise>";
    Diagnostics diagnostics;
    const auto notes = read_score_notes("x.xml", score, {}, diagnostics);
    REQUIRE(notes);
    REQUIRE(notes->bars.size() == 1);
    CHECK(notes->bars[0].key_fifths == 0);
    REQUIRE(notes->bars[0].notes.size() == 2);
    CHECK(notes->bars[0].notes[0].written == *parse_pitch("D4"));
    CHECK(notes->bars[0].notes[0].at == Position{Rational{1, 2}});
    CHECK(notes->bars[0].notes[0].length == kQuarter);
    CHECK(notes->bars[0].notes[1].length == Duration{});
}

// MusicXML 4.0, content of the element note: a cue note has a duration, a grace note has none.
TEST_CASE("cue notes and rests take their time, grace notes none", "[chart][xml]") {
    Diagnostics diagnostics;
    const ScoreNotes notes = notes_of("<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>" +
                                          note("C", 1, "<cue/>") + note("D", 1) + note("F", 1, "<chord/>") +
                                          "<note><rest/><duration>1</duration></note>" + note("E", 1),
                                      diagnostics);
    CHECK(places(notes.bars[0]) == "D4@1/4+1/4 F4@1/4+1/4 E4@3/4+1/4");
}

TEST_CASE("a second voice begins where backup leads, and never before its bar", "[chart][xml]") {
    Diagnostics diagnostics;
    const ScoreNotes notes =
        notes_of(note("C", 2) + "<backup><duration>1</duration></backup>" + note("D", 1) +
                     "<backup><duration>9</duration></backup>" + note("E", 1) +
                     "<forward><duration>2</duration></forward>" + note("F", 1),
                 diagnostics);
    CHECK(places(notes.bars[0]) == "C4@0+1/2 E4@0+1/4 D4@1/4+1/4 F4@3/4+1/4");
}

}  // namespace shedbook
