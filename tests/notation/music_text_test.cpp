#include "shedbook/notation/music_text.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("letters for accidentals become signs where they are accidentals and nowhere else", "[notation]") {
    CHECK(with_signs("Bb altered") == "B\u266D altered");
    CHECK(with_signs("F#m7b5") == "F\u266Fm7\u266D5");
    CHECK(with_signs("1 b9 #9 3 #11 b13 b7") == "1 \u266D9 \u266F9 3 \u266F11 \u266D13 \u266D7");
    CHECK(with_signs("Lydian #2 #6") == "Lydian \u266F2 \u266F6");
    CHECK(with_signs("Ebb") == "E\u266D\u266D");
    CHECK(with_signs("bars of the blues, bebop") == "bars of the blues, bebop");
    CHECK(with_signs("bVII7") == "\u266DVII7");
    CHECK(with_signs("V7/bIII") == "V7/\u266DIII");
    CHECK(with_signs("ii7/bII-bVI7") == "ii7/\u266DII-\u266DVI7");
    CHECK(with_signs("biiio7") == "\u266Diii\u00B07");
    CHECK(with_signs("viio/V") == "vii\u00B0/V");
    CHECK(with_signs("E: #ivo7") == "E: \u266Fiv\u00B07");
    CHECK(with_signs("Vox, trio, a vial") == "Vox, trio, a vial");
    CHECK(with_signs("a big vibe") == "a big vibe");
    CHECK(with_signs("") == "");
}

TEST_CASE("what was copied from a page is read with letters", "[notation]") {
    for (const char* text : {"bVII7", "ii7b5/bIII", "F#m7", "Bbb", "biiio7", "no sign at all"})
        CHECK(with_letters(with_signs(text)) == text);
}

}  // namespace shedbook
