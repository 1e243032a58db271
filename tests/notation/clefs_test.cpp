#include <catch2/catch.hpp>

#include "shedbook/notation/excerpt.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Bars of eight eighths on one note each.
WrittenMusic bars_on(const char* instrument, std::initializer_list<const char*> pitches) {
    ConcertLine line;
    Position at;
    for (const char* pitch : pitches) {
        for (int i = 0; i < 8; ++i) {
            line.notes.push_back({*parse_pitch(pitch), at, kEighth});
            at += kEighth;
        }
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.key = Key{};
    return notate(line, options);
}

constexpr Clef kAlto{'C', 3, 0};
constexpr Clef kTenor{'C', 4, 0};
constexpr Clef kBass{'F', 4, 0};
constexpr Clef kTreble{'G', 2, 0};

}  // namespace

// Common practice, no source.
TEST_CASE("bars far above the staff stand in the clef that the player reads there, and no others",
          "[notation]") {
    CHECK(bars_on("viola", {"C3", "D6", "E6", "C3"}).clefs() ==
          std::vector<Clef>{kAlto, kTreble, kTreble, kAlto});
    CHECK(bars_on("cello", {"C3", "A4", "B4", "C5"}).clefs() ==
          std::vector<Clef>{kBass, kTenor, kTenor, kTenor});
    // Two ledger lines are read as they are; a bar of three is too much.
    CHECK(bars_on("viola", {"C4", "E5", "C4"}).clefs() == std::vector<Clef>(3, kAlto));
    CHECK(bars_on("viola", {"C4", "G5", "C4", "C4"}).clefs() ==
          std::vector<Clef>{kAlto, kTreble, kAlto, kAlto});
    CHECK(bars_on("bassoon", {"C3", "B4", "C3", "C3"}).clefs() ==
          std::vector<Clef>{kBass, kTenor, kBass, kBass});
    // What both clefs hold stays in the usual one.
    CHECK(bars_on("viola", {"C3", "G4", "D6", "G4", "C3"}).clefs() ==
          std::vector<Clef>{kAlto, kAlto, kTreble, kAlto, kAlto});
    // Who reads one clef has that.
    CHECK(bars_on("double-bass", {"C3", "A4", "C3"}).clefs() == std::vector<Clef>(3, kBass));
}

// Common practice, no source: pianists read two ledger lines, and a third that does not last.
TEST_CASE("a pianist's left hand changes its clef where three ledger lines last, not for less",
          "[notation]") {
    Instrument left = *find_instrument("piano");
    left.clef = kBass;
    left.high_clef = kTreble;
    const auto clefs = [&](std::initializer_list<const char*> notes) {
        ConcertLine line;
        Position at;
        for (const char* note : notes) {
            line.notes.push_back({*parse_pitch(note), at, kQuarter});
            at += kQuarter;
        }
        line.length = at - Position{};
        NotateOptions options;
        options.instrument = &left;
        return notate(line, options).clefs();
    };
    CHECK(clefs({"C3", "C3", "C3", "C3", "E4", "D4", "E4", "D4", "C3", "C3", "C3", "C3"}) ==
          std::vector<Clef>(3, kBass));
    CHECK(clefs({"C3", "C3", "C3", "C3", "C3", "G4", "C3", "C3", "C3", "C3", "C3", "C3"}) ==
          std::vector<Clef>(3, kBass));
    CHECK(clefs({"C3", "C3", "C3", "C3", "A4", "B4", "A4", "B4", "C3", "C3", "C3", "C3"}) ==
          std::vector<Clef>{kBass, kTreble, kBass});
}

TEST_CASE("a piece that lies high throughout begins in the high clef", "[notation]") {
    const WrittenMusic music = bars_on("viola", {"D6", "C6", "D6"});
    CHECK(music.clef == kTreble);
    for (const Measure& measure : music.measures) CHECK_FALSE(measure.clef);
}

TEST_CASE("no clef changes between the notes of a tie", "[notation]") {
    ConcertLine line;
    line.notes.push_back({*parse_pitch("C3"), Position{}, kWhole});
    line.notes.push_back({*parse_pitch("D6"), Position{} + kWhole, kWhole * Rational{2}});
    line.notes.push_back({*parse_pitch("D6"), Position{} + kWhole * Rational{3}, kWhole});
    line.notes.push_back({*parse_pitch("C3"), Position{} + kWhole * Rational{4}, kWhole * Rational{2}});
    line.length = kWhole * Rational{6};
    NotateOptions options;
    options.instrument = find_instrument("viola");
    options.key = Key{};
    const WrittenMusic music = notate(line, options);
    REQUIRE(music.measures.size() == 6);
    CHECK_FALSE(music.measures[2].clef);
    CHECK_FALSE(music.measures[5].clef);
}

TEST_CASE("an excerpt begins in the clef that is in force there", "[notation]") {
    const WrittenMusic music = bars_on("viola", {"C3", "D6", "E6", "C3"});
    const WrittenMusic part = excerpt(music, 2, 4);
    CHECK(part.clefs() == std::vector<Clef>{kTreble, kAlto});
    CHECK_FALSE(part.measures.front().clef);
}

}  // namespace shedbook
