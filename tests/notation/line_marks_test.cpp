// What a line carries beside its notes, on its way to paper: articulation, slurs, breaths, words, open
// stretches, octave lines.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "shedbook/base/text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Notes of one length, one after the other.
ConcertLine line_of(const std::string& names, Duration each) {
    ConcertLine line;
    Position at;
    for (const std::string_view name : split(names, ' ')) {
        line.notes.push_back({*parse_pitch(name), at, each});
        at += each;
    }
    line.length = at - Position{};
    return line;
}

WrittenMusic written_for(const char* instrument, const ConcertLine& line) {
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.open_key = true;
    return notate(line, options);
}

const Sounded& note_at(const WrittenMusic& music, std::size_t event) {
    return std::get<Sounded>(music.events[event].what);
}

}  // namespace

TEST_CASE("articulation and the start of a slur stand on the first written value of a tied note",
          "[notation]") {
    ConcertLine line = line_of("C5", Duration{Rational{5, 4}});
    line.notes[0].articulation = Articulation::Accent;
    line.notes[0].slur_starts = true;
    line.notes[0].slur_stops = true;
    line.breaths = {Position{Rational{5, 4}}};
    const WrittenMusic music = written_for("flute", line);
    REQUIRE(music.events.size() > 2);
    CHECK(note_at(music, 0).articulation == Articulation::Accent);
    CHECK(note_at(music, 0).slur_starts);
    CHECK_FALSE(note_at(music, 0).slur_stops);
    CHECK_FALSE(note_at(music, 0).breath_after);
    CHECK(note_at(music, 1).articulation == Articulation::None);
    CHECK(note_at(music, 1).slur_stops);
    CHECK(note_at(music, 1).breath_after);
}

TEST_CASE("an open stretch is one slash a beat, in six-eight two in a bar", "[notation]") {
    ConcertLine line;
    line.length = kWhole;
    line.open = {{Position{}, kWhole}};
    const auto slashes = [](const WrittenMusic& music) {
        return std::ranges::count_if(
            music.events, [](const Event& event) { return std::holds_alternative<Slash>(event.what); });
    };
    CHECK(slashes(written_for("flute", line)) == 4);

    line.length = Duration{Rational{3, 4}};
    line.open = {{Position{}, line.length}};
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.meter = *parse_meter("6/8");
    const WrittenMusic six_eight = notate(line, options);
    CHECK(slashes(six_eight) == 2);
    CHECK(six_eight.events[0].value.dots == 1);
}

TEST_CASE("notes and open stretches share a bar", "[notation]") {
    ConcertLine line = line_of("C5 D5", kQuarter);
    line.length = kWhole;
    line.open = {{Position{Rational{1, 2}}, kHalf}};
    const WrittenMusic music = written_for("flute", line);
    REQUIRE(music.events.size() == 4);
    CHECK(std::holds_alternative<Sounded>(music.events[1].what));
    CHECK(std::holds_alternative<Slash>(music.events[2].what));
    CHECK(std::holds_alternative<Slash>(music.events[3].what));
}

TEST_CASE("words stand at the event that sounds at their place", "[notation]") {
    ConcertLine line = line_of("C5 D5 E5 F5 G5", kQuarter);
    line.length = Duration{Rational{2}};
    line.texts = {{Position{Rational{1, 4}}, "approach"}, {Position{Rational{9, 8}}, "target"}};
    const WrittenMusic music = written_for("flute", line);
    REQUIRE(music.texts.size() == 2);
    CHECK(music.texts[0].measure == 0);
    CHECK(music.texts[0].at == music.ticks_per_quarter);
    CHECK(music.texts[1].measure == 1);
    CHECK(music.texts[1].at == 0);
}

namespace {

// Under which notes an octave line is, as "--88--".
std::string octave_line_of(const WrittenMusic& music) {
    std::string out;
    for (const Event& event : music.events) {
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note != nullptr) out += note->octave_line > 0 ? '8' : note->octave_line < 0 ? 'b' : '-';
    }
    return out;
}

}  // namespace

// Common practice, no source: a pianist reads more than four ledger lines under an octave line; a flute, a
// sax or a guitar reads no octave line; a violin has one from the highest position on.
TEST_CASE("an octave line covers a long stretch of high notes, beam by beam", "[notation]") {
    const auto high = line_of("C5 E5 G5 C6 G6 B6 C7 D7 C7 B6 A6 G6 C5 D5 E5 F5", kEighth);
    const WrittenMusic music = written_for("piano", high);
    CHECK(octave_line_of(music) == "----88888888----");
    CHECK(note_at(music, 4).octave_line_starts);
    CHECK(note_at(music, 11).octave_line_stops);
    CHECK(note_at(music, 6).pitch.on_paper() == *parse_pitch("C7"));
}

TEST_CASE(
    "an octave line goes on to the end of the beam that it would cut, where those notes can go under it",
    "[notation]") {
    // The peak ends within a beam that goes below the middle of the staff, and in one that stays above it.
    CHECK(octave_line_of(written_for("piano", line_of("B6 C7 D7 E7 D7 C7 B6 A6 E6 C5 B4 A4 G4 F4 E4 D4",
                                                      kEighth))) == "88888888--------");
    CHECK(octave_line_of(written_for("piano", line_of("B6 C7 D7 E7 D7 C7 B6 A6 G6 F6 D6 B5 G5 F5 E5 D5",
                                                      kEighth))) == "888888888888----");
}

TEST_CASE("an octave line covers neither a few notes nor part of a beam", "[notation]") {
    // One high note; and a beam whose first note is too low to go under the line.
    CHECK(octave_line_of(written_for("piano", line_of("C6 C7 C6 C5", kQuarter))) == "----");
    CHECK(octave_line_of(written_for("piano", line_of("C4 B6 C7 D7 E7 D7 C7 B6", kEighth))) == "--------");
}

TEST_CASE("octave lines are for those who read them", "[notation]") {
    const auto high = line_of("A6 B6 C7 B6 A6 B6 C7 B6", kEighth);
    CHECK(octave_line_of(written_for("piano", high)) == "88888888");
    for (const char* instrument : {"flute", "piccolo", "alto-sax", "violin", "guitar", "viola", "marimba"}) {
        INFO(instrument);
        CHECK(octave_line_of(written_for(instrument, high)) == "--------");
    }
    CHECK(octave_line_of(written_for("violin", line_of("E7 F7 G7 F7 E7 F7 G7 F7", kEighth))) == "88888888");
}

TEST_CASE("under the bass clef an octave line lifts the lowest notes, under the treble clef none does",
          "[notation]") {
    const auto low = line_of("A0 B0 C1 B0 A0 B0 C1 B0", kEighth);
    CHECK(octave_line_of(written_for("piano-left-hand", low)) == "bbbbbbbb");
    CHECK(octave_line_of(written_for("tuba", low)) == "--------");
    CHECK(octave_line_of(written_for("piano", line_of("C3 D3 C3 D3 C3 D3 C3 D3", kEighth))) == "--------");
}

}  // namespace shedbook
