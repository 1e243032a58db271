// How charts from elsewhere are read; what is said of it stands in tests/cli/slips.
#include <catch2/catch.hpp>
#include <string>

#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

// As the chart of ours that it is taken for; empty where it cannot be read.
std::string pasted(const std::string& text, std::size_t notes = 1) {
    Diagnostics said;
    const std::optional<Chart> chart = read_chart("a.tune", text, {}, said);
    INFO(text);
    CHECK(said.all().size() == notes);
    return chart ? write_tune(*chart) : "";
}

std::string ours(const std::string& text) {
    Diagnostics said;
    return write_tune(read_chart("a.tune", text, {}, said).value());
}

}  // namespace

TEST_CASE("chords without bar lines are a bar each", "[chart][pasted]") {
    CHECK(pasted("Dm7 G7 C6 C6\nFm7 - Bb7 - Em7 - A7\n") ==
          ours("| Dm7 | G7 | C6 | C6 |\n| Fm7 | Bb7 | Em7 | A7 |\n"));
    // One chord is a chart of one bar as ever, and beats that are written out are kept.
    CHECK(pasted("C\n", 0) == ours("| C |\n"));
    CHECK(pasted("Dm7 / G7 /\n", 0) == ours("| Dm7 / G7 / |\n"));
    // A chart that has bar lines means them.
    CHECK(pasted("| Dm7 | G7 |\nC6 F6 |\n", 0) == ours("| Dm7 | G7 |\n| C6 F6 |\n"));
}

TEST_CASE("a letter alone between bars is a section, and a chord where nothing has bars", "[chart][pasted]") {
    CHECK(pasted("A\n| C | F |\nB2:\n| G | C |\n", 1) == pasted("[A]\n| C | F |\n[B2]\n| G | C |\n", 0));
    CHECK(pasted("A\nD E\n", 1) == ours("| A |\n| D | E |\n"));
}

TEST_CASE("sections, titles, notes and words of the song need no signs of ours", "[chart][pasted]") {
    CHECK(
        pasted("Wet Pegs\nVerse 2:\n| C | F |\nI walked the old road\n(Bridge)\n| G | x |\n# mine\n", 5) ==
        ours(
            "Title: Wet Pegs\n[Verse 2]\n| C | F |\n; I walked the old road\n[Bridge]\n| G | % |\n; mine\n"));
    CHECK(pasted("Title: A\n| C |: F :| x3\n", 0) == ours("Title: A\n| C |: F :| x3\n"));
}

TEST_CASE("German names are known by their H, their small roots and their headers", "[chart][pasted]") {
    CHECK(pasted("Tonart: fis-moll\nTakt: 3/4\n| fis7 | Es7 | As | Asus4 |\n") ==
          ours("Key: F#m\nMeter: 3/4\n| F#m7 | Eb7 | Ab | Asus4 |\n"));
    CHECK(pasted("| H7 | B7 | Bbmaj7 | Hm7 |\n", 2) == ours("| B7 | Bb7 | Bbmaj7 | Bm7 |\n"));
    // Without an H a B is what it is.
    CHECK(pasted("| B7 | E |\n", 0) == ours("| B7 | E |\n"));
    CHECK(pasted("Key: c\n| Cm |\n") == ours("Key: Cm\n| Cm |\n"));
    CHECK(pasted("Key: D dorian\n| Dm7 |\n", 0) == ours("Key: D dorian\n| Dm7 |\n"));
}

TEST_CASE("where H stands beside Bb, the first B that it makes flat is named", "[chart][pasted]") {
    Diagnostics said;
    REQUIRE(read_chart("a.tune", "Key: F\n| Bb | Bm7b5 E7 |\n| Hm7 | C7 |\n", {}, said));
    REQUIRE_FALSE(said.all().empty());
    CHECK(said.all().front().severity == Severity::Note);
    CHECK(said.all().front().where == "a.tune:2:8");
    CHECK(said.all().front().message == "H stands in this chart, so B is read as B flat");
    // A German chart has H and B, and no Bb.
    CHECK(pasted("| H7 | B7 |\n") == ours("| B7 | Bb7 |\n"));
}

TEST_CASE("text of any editor is read", "[chart][pasted]") {
    CHECK(pasted("Dm7\xC2\xA0G7\r\nC6 C6\r\n") == ours("| Dm7 | G7 |\n| C6 | C6 |\n"));
    CHECK(pasted("\xEF\xBB\xBF| C\xE2\x99\xAFm7\xE2\x99\xAD"
                 "5 |\n",
                 0) == ours("| C#m7b5 |\n"));
    std::string wide{"\xFF\xFE"};
    for (const char c : std::string{"| Dm7 | G7 |\n"}) wide += {c, '\0'};
    CHECK(pasted(wide, 0) == ours("| Dm7 | G7 |\n"));
}

TEST_CASE("lines of signs alone are no trouble", "[chart][pasted]") {
    for (const char* text :
         {"x |\n", "  x | C |\n", "##\n| C |\n", "//\n| C |\n", "()\n| C |\n", "x\n", "|x", "\xC2\xA0", ":\n",
          "Key: moll\n| C |\n", "Tonart:\n| h |\n", "-\n", "- - -\n| C |\n"}) {
        Diagnostics said;
        INFO(text);
        (void)read_chart("a.tune", text, {}, said);
        CHECK(said.all().size() < 4);
    }
}

TEST_CASE("a file that is no chart is named for what it is", "[chart][pasted]") {
    for (const auto& [bytes, name] : {std::pair{"%PDF-1.7", "a PDF"},
                                      {"\x89PNG\r\n", "a picture"},
                                      {"MThd", "a MIDI file"},
                                      {"RIFF", "a sound file"},
                                      {"{\\rtf1", "RTF"},
                                      {"<html>", "a web page"}}) {
        Diagnostics said;
        CHECK_FALSE(read_chart("a.tune", bytes, {}, said));
        REQUIRE(said.all().size() == 1);
        CHECK_THAT(said.all()[0].message, Catch::Contains(name));
    }
    Diagnostics said;
    CHECK(read_chart("a.tune", R"({"sections":[{"bars":[{"chords":[{"symbol":"C"}]}]}]})", {}, said));
}

}  // namespace shedbook
