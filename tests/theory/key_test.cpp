#include "shedbook/theory/key.h"

#include <catch2/catch.hpp>

namespace shedbook {

// Key signatures: any theory primer; e.g. Open Music Theory v1, "Key signatures".
TEST_CASE("signatures count fifths from C major", "[theory]") {
    CHECK(signature(*parse_key("C")) == 0);
    CHECK(signature(*parse_key("Bb major")) == -2);
    CHECK(signature(*parse_key("F#m")) == 3);
    CHECK(signature(*parse_key("D dorian")) == 0);
    CHECK(signature(*parse_key("G mixolydian")) == 0);
    CHECK(signature(*parse_key("E phrygian")) == 0);
    CHECK(signature(*parse_key("Eb minor")) == -6);
}

// The same primer: signatures go to seven sharps and seven flats.
TEST_CASE("a key without a signature takes its other name", "[theory]") {
    const auto name = [](const char* key) { return to_string(within_signatures(*parse_key(key))); };
    CHECK(name("G# major") == "Ab major");
    CHECK(name("Fb major") == "E major");
    CHECK(name("C# major") == "C# major");
    CHECK(name("A# minor") == "A# minor");
    CHECK(name("E# minor") == "F minor");
    CHECK(name("A# dorian") == "Bb dorian");
}

TEST_CASE("a signature alters the letters in the order of fifths", "[theory]") {
    for (int fifths = -7; fifths <= 7; ++fifths) {
        int sharps = 0;
        int flats = 0;
        for (int step = 0; step < 7; ++step) {
            const int alter = signature_alter(fifths, static_cast<Step>(step));
            sharps += alter > 0 ? alter : 0;
            flats += alter < 0 ? -alter : 0;
        }
        CHECK(sharps - flats == fifths);
        CHECK((sharps == 0 || flats == 0));
    }
    CHECK(signature_alter(1, Step::F) == 1);
    CHECK(signature_alter(1, Step::C) == 0);
    CHECK(signature_alter(-1, Step::B) == -1);
    CHECK(signature_alter(-2, Step::E) == -1);
    CHECK(signature_alter(-2, Step::A) == 0);
}

TEST_CASE("keys are read as they are printed", "[theory]") {
    for (int fifths = -7; fifths <= 7; ++fifths) {
        for (int mode = 0; mode < 8; ++mode) {
            const Key key{PitchClass::from_fifths(fifths), static_cast<Mode>(mode)};
            CHECK(parse_key(to_string(key)) == key);
        }
    }
    CHECK(parse_key("Gm") == Key{*parse_pitch_class("G"), Mode::Minor});
    CHECK_FALSE(parse_key("H"));
    CHECK_FALSE(parse_key("C chromatic"));
    CHECK_FALSE(parse_key(""));
}

// The white keys: Open Music Theory v1, "Collections and scales".
TEST_CASE("every mode has the empty signature on its own white key", "[theory]") {
    for (const char* key : {"C major", "D dorian", "E phrygian", "F lydian", "G mixolydian", "A minor",
                            "A aeolian", "B locrian"}) {
        CAPTURE(key);
        CHECK(signature(*parse_key(key)) == 0);
    }
    CHECK(signature(*parse_key("C lydian")) == 1);
    CHECK(signature(*parse_key("C locrian")) == -5);
}

}  // namespace shedbook
