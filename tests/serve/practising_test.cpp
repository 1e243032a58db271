#include <catch2/catch.hpp>
#include <set>

#include "served.h"
#include "shedbook/chart/score_notes.h"

namespace shedbook {
namespace {

constexpr const char* kEightBars =
    "Title: Goat Steps\nKey: Bb\nTempo: 132\n| Cm7 | F7 | Bbmaj7 | Ebmaj7 |\n| Am7b5 | D7 | Gm7 | % |\n";

std::string section_at(std::size_t index) {
    return "sections." + std::to_string(index);
}

}  // namespace

TEST_CASE("the units of a tune come hardest first, each with its pieces", "[serve]") {
    const Served served;
    save(served.file("goat.tune"), kEightBars);
    Browser browser = served.browser();
    const Reply page = browser.get("/api/practise?tune=goat&instrument=alto-sax&level=3");
    REQUIRE(page.status == 200);
    CHECK(page.text("title") == "Goat Steps");
    CHECK(page.number("goal") == 132);
    CHECK(page.size("form.sections.0.bars") == 8);
    REQUIRE(page.size("sections") > 2);
    // In so short a form scales may lead into them.
    std::size_t first = 0;
    while (first + 2 < page.size("sections") && page.text(section_at(first) + ".kind") != "unit") ++first;
    const std::string unit = section_at(first);
    CHECK(page.text(unit + ".kind") == "unit");
    CHECK(page.size(unit + ".places") > 0);
    CHECK_FALSE(page.text(unit + ".why").empty());
    CHECK(page.text(unit + ".pieces.0.piece") == std::to_string(first + 1) + ".1");
    // What one plays on, as an alto saxophone reads it: a major sixth above what sounds.
    CHECK(page.size(unit + ".chords") > 0);
    CHECK_FALSE(page.text(unit + ".chords.0.scale_name").empty());
    // The log knows the unit by its kind, in the key in which it sounds: for every instrument the same.
    const std::string kind = page.text(unit + ".pieces.0.item.kind");
    CHECK(kind == "unit");
    const Reply flute = browser.get("/api/practise?tune=goat&instrument=flute&level=3");
    std::set<std::string> roots_of_flute;
    std::set<std::string> roots_of_alto;
    for (std::size_t i = first; i < first + 2; ++i) {
        const std::string item = section_at(i) + ".pieces.0.item";
        roots_of_flute.insert(flute.text(item + ".subject") + std::to_string(flute.number(item + ".root")));
        roots_of_alto.insert(page.text(item + ".subject") + std::to_string(page.number(item + ".root")));
    }
    CHECK(roots_of_alto == roots_of_flute);
}

TEST_CASE("the music of a piece is MusicXML in written pitch, with nothing printed around it", "[serve]") {
    const Served served;
    save(served.file("goat.tune"), kEightBars);
    Browser browser = served.browser();
    const Reply page = browser.get("/api/practise?tune=goat&instrument=alto-sax&level=3");
    const std::string document = page.text("document");
    const Reply music = browser.get("/api/music?document=" + document + "&section=1");
    const std::size_t pieces = page.size("sections.0.pieces");
    const Data all = music.at("pieces");
    REQUIRE(all.as_object() != nullptr);
    CHECK(all.as_object()->size() == pieces);
    const Data first = all.as_object()->front().second;
    const std::string xml = first.find("musicxml")->as_string().value_or("");
    CHECK(xml.find("<rehearsal") == std::string::npos);
    Diagnostics diagnostics;
    const auto notes = read_score_notes("piece.musicxml", xml, {}, diagnostics);
    REQUIRE(notes);
    CHECK(static_cast<std::int64_t>(notes->bars.size()) == page.number("sections.0.pieces.0.bars"));
    // An alto saxophone sounds a major sixth lower than it reads (E. Kennan, The Technique of Orchestration).
    const ScoreNote& note = notes->bars.front().notes.front();
    CHECK(note.written.midi() - note.sounding.midi() == 9);
    CHECK(first.find("words")->as_array()->size() == notes->bars.size());
    std::size_t harmonies = 0;
    for (std::size_t at = xml.find("<harmony"); at != std::string::npos; at = xml.find("<harmony", at + 1))
        ++harmonies;
    CHECK(first.find("symbols")->as_array()->size() == harmonies);
    CHECK(harmonies > 0);
    CHECK(browser.get("/api/music?document=" + document + "&piece=99.9").status == 404);
    CHECK(browser.get("/api/music?document=d-0&piece=1.1").status == 410);
}

TEST_CASE("a plan has its sittings, and what nobody has is refused with a sentence", "[serve]") {
    const Served served;
    save(served.file("goat.tune"), kEightBars);
    save(served.file("slip.tune"), "| Gm77 |\n");
    Browser browser = served.browser();
    const Reply plan = browser.get("/api/practise?tune=goat&instrument=flute&level=3&plan=evening");
    CHECK(plan.status == 200);
    CHECK_FALSE(plan.text("sections.0.sitting").empty());
    CHECK(browser.get("/api/practise?tune=goat&instrument=kazzoo").status == 422);
    CHECK(browser.get("/api/practise?tune=goat&instrument=flute&level=9").status == 422);
    CHECK(browser.get("/api/practise?tune=goat&instrument=flute&plan=../x.toml").status == 422);
    CHECK(browser.get("/api/practise?tune=none&instrument=flute").status == 404);
    const Reply slip = browser.get("/api/practise?tune=slip&instrument=flute");
    CHECK(slip.status == 422);
    CHECK(slip.number("slips.0.line") == 1);
}

TEST_CASE("a scale on a chord is a sheet of its own", "[serve]") {
    const Served served;
    Browser browser = served.browser();
    const Reply sheet =
        browser.post("/api/sheet", R"({"topic":"Ab7","scale":"lydian_dominant","instrument":"flute"})");
    CHECK(sheet.status == 200);
    CHECK(sheet.text("sections.0.scale") == "Ab Lydian dominant");
    CHECK(sheet.size("sections.0.pieces") == 1);
    CHECK(browser.post("/api/sheet", R"({"topic":"Hx9"})").status == 422);
}

}  // namespace shedbook
