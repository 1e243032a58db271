// How fast drills are played. The speeds themselves are common practice, no source.
#include "shedbook/drill/speeds.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "shedbook/drill/evaluate.h"
#include "shedbook/harmony/analysis.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {
namespace {

ConcertLine line_of(std::initializer_list<int> midi, Duration length) {
    ConcertLine out;
    Position at;
    for (const int key : midi) {
        out.notes.push_back({Pitch{simplest_name(key % 12), key / 12 - 1}, at, length});
        at += length;
    }
    out.length = at - Position{};
    return out;
}

// Counted by hand, without the leaps: notes begun between one and the fourth after it, at the closest.
double most_notes_in_a_beat(const ConcertLine& line, const Meter& meter) {
    constexpr std::size_t kRun = 4;
    double most = 0;
    for (std::size_t i = 0; i + kRun < line.notes.size(); ++i) {
        const Rational beats = (line.notes[i + kRun].at - line.notes[i].at) / meter.beat_length();
        most = std::max(most, static_cast<double>(kRun) * static_cast<double>(beats.den()) /
                                  static_cast<double>(beats.num()));
    }
    return most;
}

}  // namespace

TEST_CASE("every instrument has a row of speeds, and nobody gets slower by level", "[drill][speeds]") {
    std::set<std::string> used;
    for (const Instrument& instrument : instruments()) {
        const Speeds& row = speeds_of(instrument.sound);
        INFO(instrument.id << ": " << row.id);
        const bool begins = std::ranges::any_of(
            row.sounds, [&](const std::string& sound) { return instrument.sound.starts_with(sound); });
        CHECK(begins);
        used.insert(row.id);
    }
    CHECK(used.size() == speed_rows().size());
    for (const Speeds& row : speed_rows()) {
        CHECK(std::ranges::is_sorted(row.notes));
        CHECK(row.notes[0] >= 1.5);
        CHECK(row.notes[5] <= 11.5);
        CHECK(row.leap > 0);
    }
    CHECK(speeds_of("brass.trombone.bass").id == "slides");  // the longest beginning counts
    CHECK(speeds_of("brass.trumpet.c").id == "valves");
    CHECK(speeds_of("pluck.bass.electric").id == "basses");
}

TEST_CASE("twice the notes, half the tempo; leaps slow a player down", "[drill][speeds]") {
    const Speeds& reeds = speeds_of("wind.reed.saxophone.alto");
    const ConcertLine quarters = line_of({60, 62, 64, 65, 67, 65, 64, 62}, kQuarter);
    const ConcertLine eighths = line_of({60, 62, 64, 65, 67, 65, 64, 62}, kEighth);
    const ConcertLine leaps = line_of({60, 72, 60, 72, 60, 72, 60, 72}, kEighth);
    CHECK(notes_in_a_beat(quarters, Meter{}, reeds) == Approx(1));
    CHECK(notes_in_a_beat(eighths, Meter{}, reeds) == Approx(2));
    // By hand: 5.5 notes a second at level 3 are 165 in half a minute; the dial has 160 below.
    CHECK(top_tempo(eighths, Meter{}, reeds, 3) == 160);
    CHECK(top_tempo(quarters, Meter{}, reeds, 1) == 176);
    CHECK(top_tempo(leaps, Meter{}, reeds, 3) < 160);
    CHECK(top_tempo(leaps, Meter{}, speeds_of("brass.french-horn"), 3) <
          top_tempo(leaps, Meter{}, speeds_of("keyboard.piano"), 3));
    // Three eighths to the beat of 6/8.
    CHECK(notes_in_a_beat(eighths, Meter{6, 8}, reeds) == Approx(3));
}

// Common practice, no source: the dial goes by 2 up to 60, by 3 to 72, by 4 to 120, by 6 to 144, by 8 to 208.
TEST_CASE("a tempo is brought to the number at or below it on a metronome's dial", "[drill][speeds]") {
    std::vector<int> dial;
    const auto go_on = [&](int to, int by) {
        while (dial.back() < to) dial.push_back(dial.back() + by);
    };
    dial.push_back(40);
    go_on(60, 2);
    go_on(72, 3);
    go_on(120, 4);
    go_on(144, 6);
    go_on(232, 8);
    for (std::size_t i = 0; i + 1 < dial.size(); ++i) {
        CHECK(on_dial(dial[i]) == dial[i]);
        CHECK(on_dial(dial[i + 1] - 0.5) == dial[i]);
    }
    CHECK(on_dial(12) == 40);
}

TEST_CASE("boxes are per cents of the drill's own top tempo, and never above the goal", "[drill][speeds]") {
    const Speeds& reeds = speeds_of("wind.reed.saxophone.alto");
    const ConcertLine eighths = line_of({60, 62, 64, 65, 67, 65, 64, 62}, kEighth);
    CHECK(box_tempos(eighths, Meter{}, reeds, 3, 300, {60, 80, 100}) == std::vector<int>{96, 126, 160});
    CHECK(box_tempos(eighths, Meter{}, reeds, 3, 100, {60, 80, 100}) == std::vector<int>{60, 80, 100});
    // More than all of what a player can is not asked for, and no tempo is said twice.
    CHECK(box_tempos(eighths, Meter{}, reeds, 3, 100, {100, 110}) == std::vector<int>{100});
    CHECK(box_tempos(eighths, Meter{}, reeds, 3, 44, {50, 70, 100}) == std::vector<int>{40, 44});
}

TEST_CASE("at no box does a drill ask more notes a second than the table has", "[drill][speeds]") {
    int faults = 0;
    int boxes_seen = 0;
    std::set<std::string> at_the_slowest;
    for (const char* symbol : {"Gm7", "Dmaj7", "C7alt"}) {
        const auto chord = parse_chord_symbol(symbol);
        const ScaleLadder ladder{scales_for(*chord).front().scale, chord};
        for (const Instrument& instrument : instruments()) {
            const PitchRange range = sounding_range(instrument, instrument.practical);
            const Speeds& speeds = speeds_of(instrument.sound);
            for (const DrillTemplate& drill : drill_templates()) {
                const auto plan = plan_drill(drill, ladder, std::array{range});
                if (!plan) continue;
                const ConcertLine line = evaluate(drill, ladder, *plan, range);
                const double notes = most_notes_in_a_beat(line, drill.meter);
                for (int level = 1; level <= 6; ++level) {
                    const double most = speeds.notes[static_cast<std::size_t>(level) - 1];
                    const std::vector<int> boxes =
                        box_tempos(line, drill.meter, speeds, level, 400, {60, 80, 100});
                    REQUIRE_FALSE(boxes.empty());
                    faults += std::ranges::is_sorted(boxes) && boxes.front() >= 40 ? 0 : 1;
                    for (const int tempo : boxes) {
                        ++boxes_seen;
                        faults += on_dial(tempo) == tempo ? 0 : 1;
                        if (tempo * notes / 60 <= most + 1e-9) continue;
                        // No metronome goes slower than 40: a drill above the level's own.
                        const bool is_above = tempo == 40 && drill.level > level;
                        faults += is_above ? 0 : 1;
                        if (!is_above)
                            at_the_slowest.insert(drill.id + " " + speeds.id + " " + std::to_string(level));
                    }
                }
            }
        }
    }
    for (const std::string& fault : at_the_slowest) UNSCOPED_INFO(fault);
    CHECK(faults == 0);
    CHECK(boxes_seen > 100'000);
}

}  // namespace shedbook
