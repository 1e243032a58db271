#include "shedbook/book/lead_sheet.h"

#include <catch2/catch.hpp>

#include "recording_sink.h"

namespace shedbook {
namespace {

WrittenMusic sheet(const std::string& text, const char* instrument = "piano", Diagnostics* said = nullptr) {
    RecordingSink sink;
    Diagnostics diagnostics;
    assemble_lead_sheet(tune_of(text).chart, *find_instrument(instrument), Prefer::Fewest, sink,
                        said != nullptr ? *said : diagnostics);
    return *sink.music().front();
}

}  // namespace

TEST_CASE("a lead sheet without melody has a slash a beat under its symbols", "[book]") {
    const WrittenMusic music = sheet("Key: F\n| Gm7 C7 | Fmaj7 / / D7 |\n");
    REQUIRE(music.measures.size() == 2);
    CHECK(music.events.size() == 8);
    for (const Event& event : music.events) CHECK(std::holds_alternative<Slash>(event.what));
    REQUIRE(music.chords.size() == 4);
    CHECK(music.chords[1].at == 2 * music.ticks_per_quarter);
    CHECK(music.chords[3].at == 3 * music.ticks_per_quarter);
    CHECK(music.key_fifths == -1);
}

TEST_CASE("repeats and endings keep their signs, and a repeat without a beginning gets one", "[book]") {
    const WrittenMusic music = sheet("Key: C\n| C | F | G7 |1. C :|2. C |\n");
    REQUIRE(music.measures.size() == 5);
    CHECK(music.measures[0].repeat_start);
    CHECK(music.measures[3].repeat_end == 2);
    REQUIRE(music.measures[3].ending);
    CHECK(music.measures[3].ending->numbers == "1");
    CHECK(music.measures[3].ending->starts);
    CHECK(music.measures[3].ending->stops);
    REQUIRE(music.measures[4].ending);
    CHECK(music.measures[4].ending->open);
}

TEST_CASE("a part for a transposing instrument has its key and symbols transposed", "[book]") {
    const WrittenMusic music = sheet("Key: Eb\n| Fm7 | Bb7 | Ebmaj7 | % |\n", "alto-sax");
    CHECK(music.key_fifths == 0);
    CHECK(to_string(*music.chords[0].symbol) == "Dm7");
    CHECK(music.chords.size() == 4);
}

TEST_CASE("symbols of one place part the time up to the next one on paper too", "[book]") {
    const WrittenMusic music = sheet("Key: C\n| C 3:F 3:G7 | 1:Am 1:D7 |\n");
    const int quarter = music.ticks_per_quarter;
    REQUIRE(music.chords.size() == 5);
    CHECK(music.chords[1].at == 2 * quarter);
    CHECK(music.chords[2].at == 3 * quarter);
    CHECK(music.chords[3].at == 0);
    CHECK(music.chords[4].at == 2 * quarter);
}

TEST_CASE("a bar of up to 64 quarters is counted in quarters, a longer one in wider beats or not at all",
          "[book]") {
    const auto meter_of = [](const std::string& length) {
        const WrittenMusic music = sheet("Key: C\n| C | lasts " + length + " G7 | C |\n");
        return to_string(music.measures.at(1).meter.value_or(Meter{}));
    };
    CHECK(meter_of("16/1") == "64/4");
    CHECK(meter_of("33/2") == "33/2");
    CHECK_THROWS_AS(meter_of("65/4"), UnwritableMusic);
}

}  // namespace shedbook
