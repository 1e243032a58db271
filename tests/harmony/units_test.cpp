#include "shedbook/harmony/units.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/io/data.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

TuneUnits units_in(const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_tune(SourceText{"t.tune", text}, diagnostics);
    REQUIRE(chart);
    const auto timeline = unfold(*chart, diagnostics);
    REQUIRE(timeline);
    return units_of(*chart, analyse(*chart, *timeline));
}

// "ii-V-I 1-3 C major" for each place, in order.
std::vector<std::string> listed(const TuneUnits& units) {
    std::vector<std::string> out;
    for (const PracticeUnit& unit : units.units) {
        for (const UnitPlace& place : unit.places)
            out.push_back(std::string{to_word(unit.kind)} + " " + std::to_string(place.first_bar) + "-" +
                          std::to_string(place.last_bar) + " " + to_string(place.key));
    }
    return out;
}
using Listed = std::vector<std::string>;

int difficulty_of_bar(const TuneUnits& units, int bar) {
    for (const BarDifficulty& each : units.bars) {
        if (each.bar == bar) return each.difficulty;
    }
    return -1;
}

}  // namespace

TEST_CASE("a unit is called by the plain shape of its kind in its key", "[harmony][units]") {
    const auto name = [](UnitKind kind, const char* key) { return unit_name(kind, *parse_key(key)); };
    CHECK(name(UnitKind::TwoFive, "Ab") == "ii-V in Ab major");
    CHECK(name(UnitKind::TwoFive, "A minor") == "ii-V in A minor");
    CHECK(name(UnitKind::FiveOne, "Gm") == "V-i in G minor");
    CHECK(name(UnitKind::ModalStretch, "D dorian") == "modal stretch in D dorian");
    CHECK(unit_name(UnitKind::Turnaround, Mode::Minor) == "turnaround");
}

TEST_CASE("a ii-V of a key that the tune is not in says what it does in the tune", "[harmony][units]") {
    const TuneUnits units =
        units_in("Key: F\n| Fmaj7 | Abm7 Db7 | Gm7 | C7 |\n| Fmaj7 | Gm7 C7 | F6 | % |\n");
    REQUIRE(listed(units).front() == "ii-V 2-2 Gb major");
    CHECK(units.units[0].places[0].here == "ii7/bII-bVI7 in F major");
    CHECK(units.units[1].places[0].here.empty());
    CHECK(units_in("Key: F\n| Am7b5 D7 | Gm7 C7 | F6 | % |\n").units[0].places[0].here.empty());
}

TEST_CASE("a ii-V whose goal does not follow is named from the key that it leads back to",
          "[harmony][units]") {
    const TuneUnits units = units_in("Key: Bb\n| Bb6 | Gm7 C7 | Cm7 F7 | Bb6 |\n");
    REQUIRE(listed(units).front() == "ii-V 2-2 F major");
    const UnitPlace& place = units.units[0].places[0];
    CHECK(unit_name(units.units[0].kind, place) == "ii-V of V in Bb major");
    // Where the goal comes it has its own key.
    const TuneUnits reached = units_in("Key: Bb\n| Bb6 | Gm7 C7 | F7 | Bb6 |\n");
    for (const PracticeUnit& unit : reached.units) CHECK(unit.places[0].name.empty());
}

TEST_CASE(
    "a cadence behind two chords in its bar is no place of the plain one, and has their chain for a name",
    "[harmony][units]") {
    const TuneUnits units = units_in("Key: Bb\n| Cm7 F7 | Bb6 | Eb7 | Dm7 Dbdim7 Cm7 F7 | Bb6 | Bb6 |\n");
    std::vector<std::string> cadences;
    for (const PracticeUnit& unit : units.units) {
        if (unit.kind != UnitKind::MajorTwoFiveOne) continue;
        CHECK(unit.places.size() == 1);
        cadences.push_back(unit_name(unit.kind, unit.places[0]));
    }
    CHECK(cadences == Listed{"ii-V-I in Bb major", "iii-biii dim-ii-V-I in Bb major"});
}

// Progressions and their names: common practice, no source.
TEST_CASE("cadences are found with their goals, two bars of it at most", "[harmony][units]") {
    CHECK(listed(units_in("Key: C\n| Dm7 | G7 | Cmaj7 | % |\n")) == Listed{"ii-V-I 1-4 C major"});
    CHECK(listed(units_in("Key: C\n| Dm7 | Db7 | Cmaj7 | Am7 |\n")).front() == "ii-V-I 1-3 C major");
    CHECK(listed(units_in("Key: Am\n| Bm7b5 | E7 | Am6 | % | % |\n")).front() == "ii\u00F8-V-i 1-4 A minor");
    CHECK(listed(units_in("Key: C\n| C6 | Fm7 Bb7 | C6 | Am7 |\n")).front() == "backdoor 2-3 C major");
    CHECK(listed(units_in("Key: C\n| C6 | Dm7 G7 | Em7 | Am7 |\n")).front() == "ii-V 2-2 C major");
    CHECK(listed(units_in("Key: F\n| F | Bb | F | C7 | F |\n")) ==
          Listed{"plagal 2-3 F major", "V-I 4-5 F major"});
}

TEST_CASE("the key of a unit is one that is written, and the one that its bars are in", "[harmony][units]") {
    // Not C sharp, although D7 stands for G7.
    CHECK(listed(units_in("Key: Db\n| Dbmaj7 | Fm7 E7 | Ebm7 D7 | Dbmaj7 |\n")).front() ==
          "turnaround 2-3 Db major");
    const Listed in_the_bridge = listed(units_in(
        "Key: Am\n| Am6 | Bm7b5 E7 | Am6 | % |\n| Dm7 | G7 | Cmaj7 | C#dim7 | Dm7 | G7 | Cmaj7 | % |\n"));
    CHECK(std::ranges::find(in_the_bridge, "diminished passing 7-9 C major") != in_the_bridge.end());
}

TEST_CASE("chains, lines and passing chords are units of their own", "[harmony][units]") {
    CHECK(listed(units_in("Key: C\n| E7 | A7 | D7 | G7 | C6 |\n")) == Listed{"dominant chain 1-5 C major"});
    CHECK(listed(units_in("Key: C\n| C6 | E7 | Eb7 | D7 | G7 |\n")).front() ==
          "chromatic dominants 2-4 C major");
    CHECK(listed(units_in("Key: C\n| C6 C#dim7 | Dm7 | Am7 | F6 |\n")).front() ==
          "diminished passing 1-2 C major");
    CHECK(listed(units_in("Key: Am\n| Am | Am(maj7) | Am7 | Am6 | F6 |\n")).front() ==
          "line cliche 1-4 A minor");
    CHECK(listed(units_in("Key: C\n| C6 A7 | Dm7 G7 | C6 | % |\n")).front() == "turnaround 1-2 C major");
}

TEST_CASE("two chords that sway are a mode, but not where they are the I and IV of a key",
          "[harmony][units]") {
    CHECK(listed(units_in("Key: G\n| Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | Dm7 | G7 |\n")).front() ==
          "modal stretch 1-8 D dorian");
    CHECK(listed(units_in("Key: C\n| C7 | Bb | C7 | Bb | C7 | Bb | C7 | Bb |\n")).front() ==
          "modal stretch 1-8 C mixolydian");
    const Listed folk = listed(units_in("Key: F\n| F | F | Bb | F | Bb | F | C7 | F |\n"));
    CHECK(std::ranges::find(folk, "plagal 3-4 F major") != folk.end());
    CHECK(std::ranges::none_of(folk, [](const std::string& unit) { return unit.starts_with("modal"); }));
    const Listed leads = listed(units_in("Key: Cm\n| Cm Bdim7 | Cm Bdim7 | Cm Bdim7 | Cm Bdim7 |\n"));
    CHECK(std::ranges::none_of(leads, [](const std::string& unit) { return unit.starts_with("modal"); }));
}

TEST_CASE("a unit that comes back in another key is one unit with its places", "[harmony][units]") {
    const TuneUnits units =
        units_in("Key: G\n| Am7 | D7 | Gmaj7 | % | Gm7 | C7 | Fmaj7 | % | Fm7 | Bb7 | Ebmaj7 | % |\n");
    REQUIRE(units.units.size() == 1);
    REQUIRE(units.units[0].places.size() == 3);
    CHECK(to_string(units.units[0].places[1].key) == "F major");
    CHECK(units.units[0].places[2].first_bar == 9);
    CHECK(units.units[0].places[2].chords.size() == 3);
}

TEST_CASE("goals reached only by going back to the top are none, a later ending's are", "[harmony][units]") {
    CHECK(listed(units_in("Key: C\n| C6 | F6 | Dm7 | G7 |\n")).back() == "ii-V 3-4 C major");
    const Listed found = listed(units_in("Key: C\n|: C6 | F6 |1. Em7 | A7 :|2. Dm7 G7 | C6 |\n"));
    CHECK(std::ranges::find(found, "ii-V-I 5-6 C major") != found.end());
    CHECK(std::ranges::none_of(found, [](const std::string& unit) { return unit.starts_with("ii-V-I 4"); }));
}

// By hand from the table of docs/units.md.
TEST_CASE("a bar's difficulty is the sum that the table says", "[harmony][units]") {
    // Pace 0.5 chords a second 6.25; D F A C behind C E G B: three tones lost; a whole step 1.
    CHECK(difficulty_of_bar(units_in("Key: C\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n"), 2) == 10);
    const TuneUnits calm = units_in("Key: C\n| Cmaj7 | % | % | % |\n");
    CHECK(difficulty_of_bar(calm, 3) == 0);
    CHECK(calm.bars.back().why == "the chord goes on");
    CHECK(difficulty_of_bar(units_in("Key: C\nTempo: 240\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n"), 2) == 17);
    const TuneUnits hard = units_in("Key: C\n| Cmaj7 | Bm7 E7 Bbm7 Eb7 | Am7 | Dm7 |\n");
    CHECK(hard.bars.front().bar == 2);
    CHECK(hard.bars.front().difficulty > 80);
}

TEST_CASE("every bar has a reason, the hardest come first, and every chord that resolves is in a unit",
          "[harmony][units]") {
    for (const char* name :
         {"ferry-at-six", "cellar-steps", "wet-umbrella-blues", "thimble-waltz", "goat-path"}) {
        CAPTURE(name);
        const std::string file = std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/" + name + ".tune";
        Diagnostics diagnostics;
        const auto chart = read_chart(file, read_file(file), {}, diagnostics);
        REQUIRE(chart);
        const Analysis analysis = analyse(*chart, *unfold(*chart, diagnostics));
        const TuneUnits units = units_of(*chart, analysis);
        CHECK(units.bars.size() == written_bars(*chart).size());
        int before = 101;
        for (const BarDifficulty& bar : units.bars) {
            CHECK_FALSE(bar.why.empty());
            CHECK(bar.difficulty <= before);
            before = bar.difficulty;
        }
        std::set<int> held;
        for (const PracticeUnit& unit : units.units) {
            for (const UnitPlace& place : unit.places) {
                CHECK_FALSE(place.why.empty());
                CHECK(place.difficulty <= unit.hardest_place().difficulty);
                CHECK(place.first_bar >= 1);
                CHECK(place.first_bar <= place.last_bar);
                held.insert(place.chords.begin(), place.chords.end());
            }
        }
        for (std::size_t i = 0; i + 1 < analysis.readings.size(); ++i) {
            const Reading& here = analysis.readings[i];
            const Reading& next = analysis.readings[i + 1];
            const bool resolves = family(here.symbol) == ChordFamily::Dominant && here.target == next.inst &&
                                  family(next.symbol) != ChordFamily::Dominant;
            CAPTURE(here.inst, to_string(here.symbol), to_string(next.symbol));
            if (resolves) CHECK(held.contains(here.inst));
        }
    }
}

}  // namespace shedbook
