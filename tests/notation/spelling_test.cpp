#include <catch2/catch.hpp>
#include <cstdlib>

#include "shedbook/notation/notate.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

std::string written_key(const char* instrument, const char* key, Prefer prefer = Prefer::Fewest) {
    const Key concert = *parse_key(key);
    const Interval by = written_interval(*find_instrument(instrument), concert, {}, prefer);
    return to_string(concert.tonic + by);
}

std::string written_root(const char* instrument, const char* scale) {
    const Scale concert = *parse_scale(scale);
    const Interval by = written_interval(*find_instrument(instrument), std::nullopt, strict_notes(concert));
    return to_string(concert.tonic + by);
}

}  // namespace

// Keys for transposing instruments, those above six accidentals respelled: common practice, no source.
TEST_CASE("a part's key has at most six accidentals", "[notation]") {
    CHECK(written_key("trumpet", "E") == "F#");
    CHECK(written_key("trumpet", "B") == "Db");
    CHECK(written_key("trumpet", "F#") == "Ab");
    CHECK(written_key("alto-sax", "E") == "Db");
    CHECK(written_key("alto-sax", "B") == "Ab");
    CHECK(written_key("alto-sax", "F#") == "Eb");
    CHECK(written_key("alto-sax", "A") == "F#");
    CHECK(written_key("alto-sax", "A", Prefer::Flats) == "Gb");
    CHECK(written_key("horn", "B") == "F#");
    CHECK(written_key("horn", "F#") == "Db");
    CHECK(written_key("flute", "Gb") == "Gb");
    CHECK(written_key("flute", "F#") == "F#");
    for (const Instrument& instrument : instruments()) {
        for (int fifths = -7; fifths <= 7; ++fifths) {
            const Key key{PitchClass::from_fifths(fifths), Mode::Major};
            const Interval by = written_interval(instrument, key);
            CHECK(std::abs(signature(Key{key.tonic + by, key.mode})) <= 6);
            CHECK((key.tonic + by + to_sounding(instrument.transposition)).semitone() ==
                  key.tonic.semitone());
        }
    }
}

TEST_CASE("a scale that would need double accidentals takes the name that needs none", "[notation]") {
    CHECK(written_root("alto-sax", "F# mixolydian") == "Eb");
    CHECK(written_root("alto-sax", "C# dorian") == "Bb");
    CHECK(written_root("alto-sax", "D dorian") == "B");
    CHECK(written_root("flute", "Db lydian dominant") == "Db");
    CHECK(written_root("trumpet", "B ionian") == "Db");
}

}  // namespace shedbook
