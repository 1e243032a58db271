#include "shedbook/write/piece_timing.h"

#include <catch2/catch.hpp>

#include "blocks.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// So many bars of eighths in 4/4.
Block eighths(int bars) {
    ConcertLine line;
    for (int i = 0; i < 8 * bars; ++i)
        line.notes.push_back({*parse_pitch("C5"), Position{} + kEighth * Rational{i}, kEighth});
    line.length = kEighth * Rational{8 * bars};
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.open_key = true;
    return drill_block(notate(line, options), {1, 1}, "Eighths");
}

SoundOptions at_tempo(int tempo, Feel feel) {
    SoundOptions out;
    out.tempo = TempoPlan{tempo, tempo};
    out.times = 2;
    out.feel = feel;
    return out;
}

}  // namespace

TEST_CASE("a piece begins after two bars of count-in and takes what its tempo says", "[timing]") {
    const PieceTiming timing = timing_of(eighths(2), at_tempo(120, Feel::Straight));
    CHECK(timing.count_in == Approx(4.0));
    CHECK(timing.pass == Approx(4.0));
    CHECK(timing.times == 2);
    REQUIRE(timing.bars.size() == 2);
    CHECK(timing.bars[1].measure == 1);
    CHECK(timing.bars[1].at == Approx(2.0));
    REQUIRE(timing.beats.size() == 8);
    CHECK(timing.beats[5] == Approx(2.5));
    REQUIRE(timing.onsets.size() == 16);
    CHECK(timing.onsets[3].quarters == Rational{3, 2});
    CHECK(timing.onsets[3].at == Approx(0.75));
}

TEST_CASE("eighths that swing begin where they are heard", "[timing]") {
    // Two to one: the off-beat comes on the last triplet of its quarter (common practice, no source).
    const PieceTiming timing = timing_of(eighths(1), at_tempo(60, Feel::TwelveEight));
    CHECK(timing.onsets[0].at == Approx(0.0));
    CHECK(timing.onsets[1].at == Approx(2.0 / 3));
    CHECK(timing.onsets[2].at == Approx(1.0));
    CHECK(timing.onsets[1].quarters == Rational{1, 2});
}

}  // namespace shedbook
