#include "shedbook/band/accompaniment.h"

#include <array>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "band_checks.h"
#include "band_tunes.h"
#include "random_changes.h"

namespace shedbook {
namespace {

constexpr std::array<BassFeel, 2> kFeels{BassFeel::Walking, BassFeel::Straight};
const std::array<Meter, 8> kMeters{Meter{4, 4}, Meter{3, 4},         Meter{2, 2},  Meter{5, 4},
                                   Meter{6, 8}, Meter{5, 4, {2, 3}}, Meter{12, 8}, Meter{7, 8}};

}  // namespace

TEST_CASE("the bass begins with the root where a player's hand lies, and walks into the next one", "[band]") {
    const Changes c = bars_of({"Dm7", "G7", "Cmaj7", ""});
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Walking, 1);
    REQUIRE(bass.size() == 16);
    CHECK(bass.front().key == 38);
    CHECK(bass[4].key % 12 == 7);
    CHECK(bass[8].key % 12 == 0);
    for (const std::size_t last : {3U, 7U}) CHECK(std::abs(bass[last + 1].key - bass[last].key) <= 2);
}

// Root and fifth in dotted quarters and eighths: common practice, no source.
TEST_CASE("straight, the bass has the root on one, a long note and a short one, and leads on", "[band]") {
    const Changes c = bars_of({"Dm7", "G7", "Cmaj7", "A7"});
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Straight, 1);
    REQUIRE(bass.size() == 16);
    constexpr std::array<int, 4> kRoots{2, 7, 0, 9};
    for (std::size_t i = 0; i < bass.size(); ++i) {
        const BandBar& bar = c.bars[i / 4];
        const ChordSymbol& symbol = *c.chords[i / 4].symbol;
        const bool is_long = i % 2 == 0;
        CHECK(bass[i].length == (is_long ? kQuarter + kEighth : kEighth));
        CHECK(bass[i].at == bar.at + kHalf * Rational{static_cast<std::int64_t>(i % 4 / 2)} +
                                (is_long ? Duration{} : kQuarter + kEighth));
        if (i % 4 == 0) CHECK(bass[i].key % 12 == kRoots[i / 4]);
        if (i % 4 < 3) CHECK(has_tone(symbol, bass[i].key - symbol.root.semitone() + 12));
        if (i % 4 == 3 && i + 1 < bass.size()) CHECK(std::abs(bass[i + 1].key - bass[i].key) <= 2);
    }
}

TEST_CASE("straight, two chords in a bar have their roots on one and three", "[band]") {
    Changes c = bars_of({"Dm7", "Cmaj7"});
    c.chords[0].length = kHalf;
    c.chords.insert(c.chords.begin() + 1, {Position{} + kHalf, kHalf, parse_chord_symbol("G7"), 0});
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Straight, 1);
    REQUIRE(bass.size() == 8);
    CHECK(bass[0].key % 12 == 2);
    CHECK(bass[2].at == Position{} + kHalf);
    CHECK(bass[2].key % 12 == 7);
    CHECK(bass[4].key % 12 == 0);
}

TEST_CASE("straight, a chord that stays keeps its root on one, and fifths are what is heard most beside it",
          "[band]") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        const Changes c = bars_of({"Dm7", "", "", "", "", "", "", ""});
        const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Straight, seed);
        std::array<int, 12> heard{};
        for (std::size_t i = 0; i < bass.size(); ++i) {
            if (i % 4 == 0) CHECK(bass[i].key % 12 == 2);
            if (i % 4 != 0) ++heard[static_cast<std::size_t>(bass[i].key % 12)];
        }
        heard[2] = 0;
        CHECK(std::ranges::max_element(heard) - heard.begin() == 9);
    }
}

TEST_CASE("straight, a chord that comes an eighth early takes the bass with it", "[band]") {
    Changes c = bars_of({"Dm7", "G7"});
    c.chords[1].at = c.chords[1].at - kEighth;
    c.chords[0].length -= kEighth;
    c.chords[1].length += kEighth;
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Straight, 1);
    const auto early = std::ranges::find(bass, c.chords[1].at, &BandNote::at);
    REQUIRE(early != bass.end());
    CHECK(early->key % 12 == 7);
    CHECK(std::ranges::find(bass, c.bars[1].at, &BandNote::at) == bass.end());
}

TEST_CASE("whatever the changes, the bass keeps its rules", "[band]") {
    const BassFeel feel = GENERATE(from_range(kFeels.begin(), kFeels.end()));
    RandomChanges random{7};
    BassCount all;
    for (int round = 0; round < 64; ++round) {
        const Changes c = random.make(kMeters[static_cast<std::size_t>(round) % kMeters.size()], 24);
        const std::vector<BandNote> bass = bass_line(c.chords, c.bars, feel, static_cast<unsigned>(round));
        const BassCount count = count_bass(bass, c.chords, c.bars);
        INFO("round " << round);
        CHECK(count.notes > 24);
        CHECK(count.outside_range == 0);
        CHECK(count.wide_leaps == 0);
        CHECK(count.changes_missed == 0);
        CHECK(count.strangers == 0);
        all.bar_ends += count.bar_ends;
        all.bar_ends_by_step += count.bar_ends_by_step;
    }
    CHECK(4 * all.bar_ends_by_step >= 3 * all.bar_ends);
}

TEST_CASE("every kind of chord on every root has its third and seventh in the voicing", "[band]") {
    for (const ChordKind& kind : chord_kinds()) {
        for (int fifths = -7; fifths <= 7; ++fifths) {
            ChordSymbol symbol;
            symbol.root = PitchClass::from_fifths(fifths);
            symbol.kind = &kind;
            const std::vector<int> voices = comping_tones(symbol);
            INFO(to_string(symbol));
            CHECK(voices.size() >= 2);
            CHECK(voices.size() <= 4);
            CHECK(std::set<int>(voices.begin(), voices.end()).size() == voices.size());
            for (const ChordTone& tone : tones(symbol)) {
                if (!names_chord(tone)) continue;
                const int wanted = (symbol.root + tone.above_root).semitone();
                CHECK(std::ranges::find(voices, wanted) != voices.end());
            }
        }
    }
}

TEST_CASE("a voicing takes the fifth as written, and b13 or alt in its place", "[band]") {
    const auto voices = [](const char* symbol) { return comping_tones(*parse_chord_symbol(symbol)); };
    using Set = std::vector<int>;
    CHECK(voices("Bm7b5") == Set{2, 9, 5});       // D A F
    CHECK(voices("C6") == Set{4, 9, 7});          // E A G: the sixth for the seventh
    CHECK(voices("C") == Set{4, 0, 7});           // root, third, fifth
    CHECK(voices("G7sus4") == Set{0, 5, 2});      // the fourth for the third
    CHECK(voices("Cdim7").size() == 4);           // all four
    CHECK(voices("G7(b13)") == Set{11, 5, 3});    // no D beside the Eb
    CHECK(voices("G7alt") == Set{11, 5, 3, 10});  // Eb and Bb
    CHECK(voices("C/D") == Set{4, 0, 7});         // the D is the bass player's
    CHECK(voices("Dm7/C") == Set{5, 0, 9});
}

TEST_CASE("no chord is silence", "[band]") {
    Changes c = bars_of({"Dm7", "G7", "C6"});
    c.chords[1].symbol.reset();
    for (const BassFeel feel : kFeels) {
        for (const BandNote& note : bass_line(c.chords, c.bars, feel, 1))
            CHECK(chord_at(c.chords, note.at)->symbol);
    }
}

TEST_CASE("a slash bass stands on the change instead of the root", "[band]") {
    const Changes c = bars_of({"C/E", "F", "C/G", "G7"});
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Walking, 1);
    CHECK(bass[0].key % 12 == 4);
    CHECK(bass[8].key % 12 == 7);
}

TEST_CASE("a chord that comes an eighth early takes the bass with it, and the beat after stays free",
          "[band]") {
    Changes c = bars_of({"Dm7", "G7"});
    c.chords[1].at = c.chords[1].at - kEighth;
    c.chords[0].length -= kEighth;
    c.chords[1].length += kEighth;
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Walking, 1);
    const auto early = std::ranges::find(bass, c.chords[1].at, &BandNote::at);
    REQUIRE(early != bass.end());
    CHECK(early->key % 12 == 7);
    CHECK(std::ranges::find(bass, c.bars[1].at, &BandNote::at) == bass.end());
}

TEST_CASE("bass notes follow each other without overlap and end with their bar's music", "[band]") {
    const Changes c = RandomChanges{3}.make(Meter{4, 4}, 32);
    const BassFeel feel = GENERATE(from_range(kFeels.begin(), kFeels.end()));
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, feel, 1);
    for (std::size_t i = 0; i < bass.size(); ++i) {
        CHECK(bass[i].length > Duration{});
        if (i > 0) CHECK(bass[i - 1].at + bass[i - 1].length <= bass[i].at);
    }
}

TEST_CASE("the same seed gives the same bass, another one another, and bars of one chord differ", "[band]") {
    const Changes c = bars_of({"Dm7", "", "", "", "", "", "", ""});
    for (const BassFeel feel : kFeels)
        CHECK(bass_line(c.chords, c.bars, feel, 5) == bass_line(c.chords, c.bars, feel, 5));
    CHECK(bass_line(c.chords, c.bars, BassFeel::Walking, 5) !=
          bass_line(c.chords, c.bars, BassFeel::Walking, 6));
    const std::vector<BandNote> bass = bass_line(c.chords, c.bars, BassFeel::Walking, 5);
    std::set<std::vector<int>> bars;
    for (std::size_t i = 0; i < bass.size(); i += 4)
        bars.insert({bass[i].key, bass[i + 1].key, bass[i + 2].key, bass[i + 3].key});
    CHECK(bars.size() >= 3);
}

TEST_CASE("a tune of thousands of bars keeps the rules across the stretches it is worked out in", "[band]") {
    const Changes c = RandomChanges{5}.make(Meter{4, 4}, 600);
    const BassFeel feel = GENERATE(from_range(kFeels.begin(), kFeels.end()));
    const BassCount count = count_bass(bass_line(c.chords, c.bars, feel, 1), c.chords, c.bars);
    CHECK(count.notes > 2000);
    CHECK(count.wide_leaps + count.strangers + count.changes_missed + count.outside_range == 0);
}

}  // namespace shedbook
