// Several notes struck together, from the line to the page.
#include <algorithm>
#include <catch2/catch.hpp>

#include "shedbook/notation/excerpt.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/memory_page.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Two bars: F#3 A3 C4 E4 and F3 A3 B3 E4, each a whole note.
ConcertLine two_chords() {
    ConcertLine line;
    line.notes = {{*parse_pitch("E4"), Position{}, kWhole},
                  {*parse_pitch("E4"), Position{} + kWhole, kWhole}};
    for (const char* name : {"C4", "A3", "F#3"}) line.below.push_back({0, *parse_pitch(name)});
    for (const char* name : {"B3", "A3", "F3"}) line.below.push_back({1, *parse_pitch(name)});
    line.length = kWhole + kWhole;
    return line;
}

WrittenMusic on_paper(const ConcertLine& line, const char* instrument) {
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.key = Key{};
    return notate(line, options);
}

std::vector<std::string> names_of(const WrittenMusic& music, std::size_t event) {
    const auto& note = std::get<Sounded>(music.events[event].what);
    std::vector<std::string> out{to_string(note.pitch.on_paper())};
    for (const ChordNote& other : music.notes_below(note)) out.push_back(to_string(other.pitch.on_paper()));
    return out;
}

std::vector<Accidental> shown_in(const WrittenMusic& music, std::size_t event) {
    const auto& note = std::get<Sounded>(music.events[event].what);
    std::vector<Accidental> out{note.shown};
    for (const ChordNote& other : music.notes_below(note)) out.push_back(other.shown);
    return out;
}

}  // namespace

TEST_CASE("a chord is one event with its notes from the highest, each transposed", "[notation][chords]") {
    const WrittenMusic piano = on_paper(two_chords(), "piano");
    REQUIRE(piano.events.size() == 2);
    CHECK(names_of(piano, 0) == std::vector<std::string>{"E4", "C4", "A3", "F#3"});
    const WrittenMusic guitar = on_paper(two_chords(), "guitar");
    CHECK(names_of(guitar, 1) == std::vector<std::string>{"E5", "B4", "A4", "F4"});
}

TEST_CASE("each note of a chord has its own accidental, cancelled in the next bar", "[notation][chords]") {
    const WrittenMusic music = on_paper(two_chords(), "piano");
    using enum Accidental;
    CHECK(shown_in(music, 0) == std::vector<Accidental>{None, None, None, Sharp});
    CHECK(shown_in(music, 1) == std::vector<Accidental>{None, None, None, Natural});
}

TEST_CASE("a chord over the bar line is tied in all its notes, without accidentals again",
          "[notation][chords]") {
    ConcertLine line = two_chords();
    line.notes = {{*parse_pitch("E4"), Position{} + kHalf, kWhole}};
    line.below.resize(3);
    const WrittenMusic music = on_paper(line, "piano");
    REQUIRE(music.events.size() == 4);  // rest, chord, chord, rest
    CHECK(std::get<Sounded>(music.events[1].what).tied_on);
    CHECK(names_of(music, 2) == names_of(music, 1));
    CHECK(shown_in(music, 2) == std::vector<Accidental>(4, Accidental::None));
}

TEST_CASE("a chord knows how far it reaches on the staff", "[notation][chords]") {
    const WrittenMusic music = on_paper(two_chords(), "piano");
    const auto [low, high] = music.staff_places(std::get<Sounded>(music.events[1].what));
    CHECK(low == parse_pitch("F3")->staff_place());
    CHECK(high == parse_pitch("E4")->staff_place());
}

TEST_CASE("a single note costs no room for others", "[notation][chords]") {
    ConcertLine line = two_chords();
    line.below.clear();
    const WrittenMusic music = on_paper(line, "piano");
    CHECK(music.below.empty());
    CHECK(names_of(music, 0) == std::vector<std::string>{"E4"});
}

TEST_CASE("bars cut out, or left of a page from memory, keep their chords", "[notation][chords]") {
    const WrittenMusic music = on_paper(two_chords(), "piano");
    CHECK(names_of(excerpt(music, 1, 2), 0) == names_of(music, 1));
    CHECK(names_of(with_empty_staves(music, 1), 0) == names_of(music, 0));
}

TEST_CASE("no single string is named under a chord", "[notation][chords]") {
    WrittenMusic music = on_paper(two_chords(), "guitar");
    add_fingerings(music, *find_instrument("guitar"));
    for (const NoteFingering& fingering : music.fingerings) CHECK(fingering.text.empty());
}

TEST_CASE("a line with chords moves as a whole, and lies in a range with all of its notes",
          "[notation][chords]") {
    const ConcertLine line = transposed(two_chords(), kOctave);
    CHECK(line.below.front().pitch == *parse_pitch("C5"));
    CHECK(is_within(line, {*parse_pitch("F4"), *parse_pitch("E5")}));
    CHECK_FALSE(is_within(line, {*parse_pitch("G4"), *parse_pitch("E5")}));
}

}  // namespace shedbook
