#include "shedbook/drill/invariants.h"

#include <catch2/catch.hpp>
#include <functional>
#include <vector>

#include "invariant_checks.h"

namespace shedbook {
namespace {

// What is wrong with a shipped drill over C major, after `slip` has changed its notes.
std::string fault_after(const char* id, const std::function<void(ConcertLine&)>& slip,
                        const char* chord = "Cmaj7", const char* scale = "C ionian") {
    const DrillTemplate* drill = find_drill(id);
    REQUIRE(drill != nullptr);
    const ScaleLadder ladder{*parse_scale(scale), parse_chord_symbol(chord)};
    const PitchRange range{*parse_pitch("C3"), *parse_pitch("C6")};
    const auto plan = plan_drill(*drill, ladder, std::vector{range});
    REQUIRE(plan);
    ConcertLine line = evaluate(*drill, ladder, *plan, range);
    REQUIRE(fault_of({*drill, ladder, *plan, line, range}).empty());
    slip(line);
    return fault_of({*drill, ladder, *plan, line, range});
}

void set(ConcertLine& line, std::size_t i, const char* pitch) {
    line.notes[i].pitch = *parse_pitch(pitch);
}

std::string errors_of(const std::string& keeps) {
    const std::string text =
        "[[drill]]\nid = \"x\"\ntitle = \"X\"\nrising = \"1 3\"\nkeeps = " + keeps + "\n";
    Diagnostics diagnostics;
    const auto drills = read_drill_templates(SourceText{"x.toml", text}, diagnostics);
    CHECK(drills.empty());
    std::string out;
    for (const Diagnostic& one : diagnostics.all()) out += render(one);
    return out;
}

}  // namespace

TEST_CASE("a note that slips in a shipped drill is found by what the drill keeps", "[drill]") {
    const auto swap = [](std::size_t a, std::size_t b) {
        return [=](ConcertLine& line) { std::swap(line.notes[a].pitch, line.notes[b].pitch); };
    };
    const auto note = [](std::size_t i, const char* pitch) {
        return [=](ConcertLine& line) { set(line, i, pitch); };
    };
    CHECK(fault_after("thirds", note(1, "F4")) == "a group of another shape");
    CHECK(fault_after("thirds", swap(2, 3)) == "a group in the wrong direction");
    CHECK(fault_after("thirds-by-turns", swap(0, 1)) == "begins in the wrong direction");
    CHECK(fault_after("thirds", [](ConcertLine& line) {
              set(line, 4, "F4");
              set(line, 5, "A4");
          }) == "groups do not move by step");
    CHECK(fault_after("sixths-down", swap(4, 5)) == "a group in the wrong direction");
    CHECK(fault_after("triads-first-inversion", swap(0, 1)) == "a group that turns");
    CHECK(fault_after("triads", note(2, "A4")) == "a group of another shape");
    CHECK(fault_after("open-triads", note(1, "A4")) == "a group of another shape");
    CHECK(fault_after("octave-scale", note(3, "G4")) == "not by step");
    CHECK(fault_after("octave-scale", note(0, "E4")) == "turns too often");
    CHECK(fault_after("groups-of-four", note(2, "F#4")) == "a note outside the scale");
    CHECK(fault_after("arpeggio", note(1, "F4")) == "a note that is no chord tone");
    CHECK(fault_after("chord-roots", note(2, "E4")) == "a note that is no root");
    CHECK(fault_after("chord-tones-approached", note(1, "F4")) == "a neighbour from above");
    CHECK(fault_after("chord-tones-approached", note(1, "D4")) == "not a half step");
    CHECK(fault_after("enclosures-above", note(2, "C4")) == "neighbours on one side only");
    CHECK(fault_after("cell-1235-on-chord-tones", note(0, "D4")) == "a group of another shape");
    CHECK(fault_after("cell-1321", note(1, "F4")) == "a group of another size");
    CHECK(fault_after("pentatonic-fours", note(1, "F4")) == "more than five notes");
    CHECK(fault_after("triad-pair", note(1, "A4")) == "no triad");
    CHECK(fault_after("long-tones", [](ConcertLine& line) {
              line.notes[0].length = kHalf;
              line.notes[1].at = line.notes[0].at + kHalf;
              line.notes[1].length = kWhole + kHalf;
          }) == "a note of another length");
    CHECK(fault_after("waltz-cells", [](ConcertLine& line) {
              line.notes[0].length = kQuarter;
              for (std::size_t i = 1; i < line.notes.size(); ++i)
                  line.notes[i].at = line.notes[i].at + kEighth;
              line.notes.back().length = line.notes.back().length - kEighth;
          }) == "a group off its beat");
    CHECK(fault_after("range-scale", [](ConcertLine& line) {
              for (LineNote& one : line.notes) {
                  if (one.pitch == *parse_pitch("C6")) one.pitch = *parse_pitch("A5");
              }
          }) == "turns too often");
}

TEST_CASE("a fault under keeps is shown at its place", "[drill]") {
    CHECK(errors_of("{ group = 2, shape = \"1 x\" }").find("'shape' must be rising degrees") !=
          std::string::npos);
    CHECK(errors_of("{ group = 2, shape = \"1 3 5\" }").find("'shape' has 3 notes and a group 2") !=
          std::string::npos);
    CHECK(errors_of("{ shape = \"1 3\" }").find("does not say how large they are") != std::string::npos);
    CHECK(errors_of("{ direction = \"sideways\" }").find("direction") != std::string::npos);
    CHECK(errors_of("{ turn = 1 }").find("'turn'") != std::string::npos);
    CHECK(errors_of("{ group = 2, beat = \"now\" }").find("'beat' must be one length") != std::string::npos);
    CHECK(errors_of("\"thirds\"").find("'keeps' must be a table") != std::string::npos);
}

TEST_CASE("a drill like another keeps what it does not say itself", "[drill]") {
    const DrillInvariants& keeps = find_drill("thirds-by-turns")->keeps;
    CHECK(keeps.group == 2);
    CHECK(keeps.shape == std::vector{0, 2});
    CHECK(keeps.direction == DrillInvariants::Direction::ByTurns);
    CHECK(keeps.mirror);
}

}  // namespace shedbook
