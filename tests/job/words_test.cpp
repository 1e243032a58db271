#include "shedbook/job/words.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("a tune goes to its new key the nearest way, at most a tritone up", "[job]") {
    const auto to = [](const char* key) {
        return transposition_of(key, *parse_pitch_class("C")).semitones();
    };
    CHECK(to("C") == 0);
    CHECK(to("Eb") == 3);
    CHECK(to("F#") == 6);
    CHECK(to("Gb") == 6);
    CHECK(to("G") == -5);
    CHECK(to("B") == -1);
    // What is said with its direction goes that way.
    CHECK(to("up P5") == 7);
    CHECK(to("down P5") == -7);
}

}  // namespace shedbook
