#include "shedbook/book/map_of_tune.h"

#include <catch2/catch.hpp>

#include "recording_sink.h"

namespace shedbook {

TEST_CASE("a map shows each written bar once, four a phrase, with what its chords mean", "[book]") {
    const FormMap map =
        map_of_tune(tune_of("Title: Blue Door\nKey: Bb\n[A]\n|: Cm7 | F7 | Bbmaj7 | G7 | Cm7 F7 | Bb6 "
                            ":|\n[B]\n| Em7b5 | A7 | Dm7 | G7 |\n"));
    CHECK(map.title == "Blue Door");
    REQUIRE(map.phrases.size() == 3);
    CHECK(map.phrases[0].label == "A");
    CHECK(map.phrases[1].label.empty());
    CHECK(map.phrases[2].label == "B");
    CHECK(map.phrases[0].bars[0].repeat_start);
    CHECK(map.phrases[1].bars[1].repeat_end);
    REQUIRE(map.phrases[0].chords.size() == 4);
    CHECK(map.phrases[0].chords[1].numeral == "V7");
    CHECK(map.phrases[1].chords[1].at == Rational{1, 2});
    REQUIRE_FALSE(map.phrases[0].units.empty());
    CHECK(map.phrases[0].units[0].label == "ii-V-I");
    CHECK(map.phrases[0].units[0].from == Rational{0});
    CHECK(map.phrases[0].units[0].to == Rational{3});
    REQUIRE_FALSE(map.phrases[0].leads.empty());
    CHECK(map.phrases[0].leads[0].to == Rational{2});
    CHECK(map.phrases[0].leads[0].goal == "B\u266Dmaj7");
    for (const MapPhrase& phrase : map.phrases) {
        Rational covered{0};
        for (const MapRegion& region : phrase.regions) {
            CHECK(region.from == covered);
            covered = region.to;
        }
        CHECK(covered == Rational{static_cast<std::int64_t>(phrase.bars.size())});
    }
}

}  // namespace shedbook
