#include "../../src/write/staff_svg.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

struct Placed {
    double x = 0;
    double y = 0;
};

// Where a glyph of the page stands in a drawing, in order.
std::vector<Placed> places_of(const std::string& svg, const std::string& glyph) {
    std::vector<Placed> out;
    const std::string mark = "<use href=\"#" + glyph + "\" x=\"";
    for (std::size_t at = svg.find(mark); at != std::string::npos; at = svg.find(mark, at + 1)) {
        const std::size_t x = at + mark.size();
        const std::size_t y = svg.find("y=\"", x) + 3;
        out.push_back({std::stod(svg.substr(x)), std::stod(svg.substr(y))});
    }
    return out;
}

WrittenMusic eighths(const std::vector<std::string>& notes, const std::string& instrument, const Key& key) {
    ConcertLine line;
    Position at;
    for (const std::string& note : notes) {
        line.notes.push_back({*parse_pitch(note), at, kEighth});
        at += kEighth;
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.key = key;
    options.chords.push_back({Position{}, parse_chord_symbol("Bb7")});
    return notate(line, options);
}

constexpr double kSpace = 8;

}  // namespace

TEST_CASE("every note has a head, higher by half a space for each letter", "[write]") {
    const Key key{*parse_pitch_class("C"), Mode::Major};
    const std::string svg =
        staff_svg(eighths({"C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"}, "flute", key), "Scale");
    const std::vector<Placed> heads = places_of(svg, "h4");
    REQUIRE(heads.size() == 8);
    for (std::size_t i = 1; i < heads.size(); ++i) {
        INFO(i);
        CHECK(heads[i - 1].y - heads[i].y == Approx(kSpace / 2));
        CHECK(heads[i].x - heads[i - 1].x > kSpace);
    }
    // The G clef curls about the line of G4.
    REQUIRE(places_of(svg, "gc").size() == 1);
    CHECK(places_of(svg, "gc").front().y == Approx(heads[4].y));
    CHECK(svg.find("aria-label=\"Scale\"") != std::string::npos);
}

TEST_CASE("a key signature and accidentals stand at the height of their notes", "[write]") {
    const Key key{*parse_pitch_class("Bb"), Mode::Major};
    const std::string svg = staff_svg(eighths({"Bb4", "E5", "Eb5", "F5"}, "flute", key), "");
    const std::vector<Placed> heads = places_of(svg, "h4");
    const std::vector<Placed> flats = places_of(svg, "fl");
    REQUIRE(heads.size() == 4);
    // Two of the key, and one that takes the natural back.
    REQUIRE(flats.size() == 3);
    CHECK(flats[0].y == Approx(heads[0].y));
    CHECK(flats[1].y == Approx(heads[1].y));
    CHECK(flats[2].y == Approx(heads[2].y));
    CHECK(flats[2].x < heads[2].x);
    REQUIRE(places_of(svg, "na").size() == 1);
    CHECK(places_of(svg, "na").front().y == Approx(heads[1].y));
    CHECK(svg.find("B♭7") != std::string::npos);
}

TEST_CASE("what reads another clef or key is drawn as it reads, and lines turn within the width", "[write]") {
    const Key key{*parse_pitch_class("C"), Mode::Major};
    std::vector<std::string> notes;
    for (int bar = 0; bar < 8; ++bar)
        notes.insert(notes.end(), {"C3", "D3", "E3", "F3", "G3", "F3", "E3", "D3"});
    const std::string bass = staff_svg(eighths(notes, "trombone", key), "");
    CHECK(places_of(bass, "fc").size() > 1);  // one a line
    for (const Placed& head : places_of(bass, "h4")) CHECK(head.x < 352);
    const std::string alto = staff_svg(eighths({"C4", "D4"}, "alto-sax", key), "");
    CHECK(places_of(alto, "sh").size() == 3);  // A major
}

}  // namespace shedbook
