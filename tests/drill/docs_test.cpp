// The page that teaches the pattern language: everything in it runs.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "drill/note_names.h"
#include "shedbook/base/text.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/drill/material.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {
namespace {

std::string page() {
    std::ifstream file{std::string{SHEDBOOK_SOURCE_DIR} + "/docs/drills.md"};
    REQUIRE(file);
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::vector<std::string> toml_blocks() {
    std::vector<std::string> out;
    std::istringstream text{page()};
    bool inside = false;
    for (std::string line; std::getline(text, line);) {
        if (line.starts_with("```")) {
            inside = line == "```toml";
            if (inside) out.emplace_back();
        } else if (inside) {
            out.back() += line + "\n";
        }
    }
    return out;
}

DrillLibrary library_of_page() {
    DrillLibrary library = shipped_drills();
    Diagnostics diagnostics;
    for (const std::string& block : toml_blocks())
        read_into(library, SourceText{"page.toml", block}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) FAIL_CHECK(render(diagnostic));
    return library;
}

ConcertLine played(const DrillTemplate& drill, const ScaleLadder& ladder, PitchRange range) {
    const auto plan = plan_drill(drill, ladder, std::vector{range});
    REQUIRE(plan);
    return evaluate(drill, ladder, *plan, range);
}

}  // namespace

TEST_CASE("every template on the page is read and played on every instrument, or said to be too wide",
          "[drill]") {
    CHECK(toml_blocks().size() >= 6);
    const DrillLibrary library = library_of_page();
    const ScaleLadder ladder{*parse_scale("D dorian"), parse_chord_symbol("Dm7")};
    int played_count = 0;
    for (const char* id :
         {"my-thirds", "my-sixths-slurred", "my-groups", "morning-fives", "two-doors", "stepping-stones"}) {
        const DrillTemplate* drill = library.find_drill(id);
        INFO(id);
        REQUIRE(drill != nullptr);
        for (const Instrument& instrument : instruments()) {
            const PitchRange range = sounding_range(instrument, instrument.practical);
            const auto plan = plan_drill(*drill, ladder, std::vector{range});
            if (!plan) {
                CHECK(advice_on(*drill, ladder, std::vector{range}, drill_templates()).needs);
                continue;
            }
            ++played_count;
            CHECK(is_within(evaluate(*drill, ladder, *plan, range), range));
        }
    }
    CHECK(played_count > 300);
}

TEST_CASE("the three templates of the page sound as their text says", "[drill]") {
    const DrillLibrary library = library_of_page();
    const ScaleLadder ladder{*parse_scale("D dorian"), parse_chord_symbol("Dm7")};
    const PitchRange range{*parse_pitch("C3"), *parse_pitch("C6")};
    const ConcertLine fives = played(*library.find_drill("morning-fives"), ladder, range);
    INFO(names(fives));
    CHECK(names(fives).starts_with("A4 G4 F4 E4 D4 C#4 D4 F4 A4 F4 C5 B4 A4 G4 F4 E4 F4 A4 C5 A4"));
    CHECK(fives.notes[10].at == Position{Rational{5, 4}});
    const ConcertLine doors = played(*library.find_drill("two-doors"), ladder, range);
    CHECK(names(doors).starts_with("D4 C#4 D4 E4 F4 G4 F4 G#4 A4 G#4 A4 B4 C5 D5 C5 C#5 D5"));
    CHECK(doors.notes[1].slur_starts);
    CHECK(doors.notes[2].slur_stops);
    const ConcertLine stones = played(*library.find_drill("stepping-stones"), ladder, range);
    INFO(names(stones));
    CHECK(names(stones).starts_with("D3 F3 G3 D4 F3 G3 A3 F4"));
    CHECK(stones.notes[0].at == Position{Rational{1, 8}});
    CHECK(stones.notes[0].length == kQuarter);
    CHECK(stones.notes[1].length == kEighth);
}

TEST_CASE("the page names every material", "[drill]") {
    const std::string text = page();
    for (const std::string& name : material_names()) {
        INFO(name);
        CHECK(text.find("`" + name + "`") != std::string::npos);
    }
}

TEST_CASE("titles leave room for the boxes beside them, and names are plain", "[drill]") {
    for (const DrillTemplate& drill : drill_templates()) {
        INFO(drill.id);
        CHECK(count_characters(drill.title) <= 44);
        CHECK(drill.id == slug(drill.id));
        CHECK(drill.about.ends_with("."));
    }
}

}  // namespace shedbook
