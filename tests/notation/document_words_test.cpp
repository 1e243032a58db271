#include "shedbook/notation/document_words.h"

#include <catch2/catch.hpp>

#include "blocks.h"

namespace shedbook {

TEST_CASE("bars are listed as a reader would say them", "[notation]") {
    CHECK(bars_in_words({}).empty());
    CHECK(bars_in_words({3}) == "bar 3");
    CHECK(bars_in_words({1, 2, 5, 6, 7}) == "bars 1, 2, 5 to 7");
}

TEST_CASE("numbers of pieces are said as they are printed", "[notation]") {
    CHECK(in_words(PieceNumber{2, 3}) == "2.3");
    CHECK(in_words(PieceNumber{7, 0}) == "7");
    CHECK(in_words(PieceNumber{}).empty());
}

TEST_CASE("a long remark says first no longer why, then nothing", "[notation]") {
    Drill drill = drill_block({}, {1, 1}, "Thirds");
    drill.remark.what = "from the 5th, shortened";
    drill.remark.why = "to stay in range";
    CHECK(heading_of(drill).remark == "from the 5th, shortened to stay in range");
    drill.title = "Seventh chords up and down by step";  // 34 characters, and 40 of the remark
    CHECK(heading_of(drill).remark == "from the 5th, shortened");
    drill.remark.octave = DrillRemark::Octave{1, 3};
    CHECK(heading_of(drill).remark == "from the 5th, shortened, middle octave");
    drill.remark = {};
    drill.named =
        TopicInPart{parse_chord_symbol("F#7(b9,#11)"), *parse_scale("F# half-whole diminished"), {}};
    CHECK(heading_of(drill).title == "F#7(b9,#11): seventh chords up and down by step");
    CHECK(heading_of(drill).remark == "F# half-whole diminished");
    drill.title += ", then in thirds by the way";
    CHECK(heading_of(drill).remark.empty());
}

TEST_CASE("the remark keeps its reason up to 72 characters of heading, not beyond", "[notation]") {
    Drill drill = drill_block({}, {1, 1}, std::string(32, 'x'));
    drill.remark.what = "from the 5th, shortened";
    drill.remark.why = "to stay in range";  // 40 with the blank between
    CHECK(heading_of(drill).remark.ends_with("range"));
    drill.title += "x";
    CHECK(heading_of(drill).remark.ends_with("shortened"));
}

TEST_CASE("an etude names its tune, unless the title is very long", "[notation]") {
    Etude etude = etude_block({}, {1, 0}, "Guide-tone line");
    CHECK(heading_of(etude).title == "Guide-tone line");
    etude.tune = {"door", "Blue Door"};
    CHECK(heading_of(etude).title == "Blue Door: guide-tone line");
    etude.tune.title = std::string(41, 'x');
    CHECK(heading_of(etude).title == "Guide-tone line");
    etude.made = Etude::Made{3, 7, 2};
    CHECK(heading_of(etude).remark == "level 3, seed 7, 2 choruses");
}

TEST_CASE("a tempo that only the tune has is called so, behind the feel", "[notation]") {
    WrittenMusic music;
    music.feel = "fast swing";
    CHECK(before_tempo(music) == "fast swing");
    music.tempo = TempoMark{232, {2, 0}};
    CHECK(before_tempo(music) == "fast swing");
    music.tempo->is_of_tune = true;
    CHECK(before_tempo(music) == "fast swing; the tune:");
    music.feel.clear();
    CHECK(before_tempo(music) == "the tune:");
}

TEST_CASE("a form is said as it is played, and how much of it is written", "[notation]") {
    TuneOverview overview;
    overview.sections = {{"A", {{0}, {1}, {2}}}, {"B", {{3}}}};
    CHECK(form_in_words(overview) == "3 bars");
    overview.played = {"A", "B"};
    overview.played_bars = 3;
    CHECK(form_in_words(overview) == "3 bars, A B");
    overview.played = {"A", "A", "B"};
    overview.played_bars = 5;
    CHECK(form_in_words(overview) == "5 bars, A A B (3 written)");
}

TEST_CASE("a row of a plan's table says only what is new", "[notation]") {
    PlanTable table;
    table.title = "Two weeks";
    const TopicInPart topic{parse_chord_symbol("Dm7"), *parse_scale("D dorian"), {}};
    table.rows.push_back({{"Week 1", "slow", "Rest often."}, {}, {topic}, {"In thirds"}, {{60, 80}, true}});
    const UnitHead unit{"ii-V", {{{*parse_pitch_class("C"), Mode::Major}, 5, 6}}, Grade::Hard, ""};
    table.rows.push_back({{"Week 2", "", "Rest often."}, {unit}, {topic}, {"In fourths"}, {{60, 80}, true}});
    const std::vector<PlanRowWords> rows = rows_in_words(table);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].title == "Week 1: slow");
    CHECK(rows[0].lines == std::vector<std::string>{"Rest often.", "Chords and scales: Dm7",
                                                    "Drills: in thirds", "Tempos: at 60, at 80"});
    CHECK(rows[1].title == "Week 2");
    CHECK(rows[1].lines ==
          std::vector<std::string>{"Units: ii-V in C major, bars 5, 6", "Drills: in fourths"});
}

}  // namespace shedbook
