#include "shedbook/chart/sounding_bars.h"

#include <catch2/catch.hpp>

#include "chart/dump.h"
#include "chart/typed_chart.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

// "C | F@1/2 (G)": the chords of each bar with their places; in brackets those that only sound on.
std::string sounding(const Chart& chart) {
    std::string out;
    for (const auto& bar : sounding_bars(written_bars(chart))) {
        out += out.empty() ? "" : " |";
        for (const SoundingChord& each : bar) {
            const std::string name = to_string(*each.chord->symbol);
            out += (out.empty() ? "" : " ") + (each.is_carried ? "(" + name + ")" : name);
            if (each.at > Position{}) out += "@" + to_string(each.at.whole_notes);
        }
    }
    return out;
}

Position at(std::int64_t num, std::int64_t den) {
    return Position{Rational{num, den}};
}

}  // namespace

TEST_CASE("a repeated bar sounds what the bar before it does", "[chart]") {
    CHECK(sounding(read("| C F | % | G | %% |")) == "C F@1/2 | C F@1/2 | G | C F@1/2 | G");
}

TEST_CASE("a chord that sounds on into the bar that is repeated begins the repeated bar", "[chart]") {
    CHECK(sounding(read("| Am | / / D7 / | % |")) == "Am | D7@1/2 | (Am) D7@1/2");
    CHECK(sounding(read("| Am | / / D7 / | % | % |")) == "Am | D7@1/2 | (Am) D7@1/2 | (Am) D7@1/2");
}

TEST_CASE("a shorter repeated bar leaves out what lies behind its end", "[chart]") {
    CHECK(sounding(read("| C / F G | 2/4 % |")) == "C F@1/2 G@3/4 | C");
}

TEST_CASE("a chord that only sounds on is not pushed again", "[chart]") {
    const Chart chart = read("| C | <Am | / / D7 / | % |");
    const auto bars = sounding_bars(written_bars(chart));
    CHECK(bars[1][0].push() == kEighth);
    REQUIRE(bars[3][0].is_carried);
    CHECK(bars[3][0].push() == Duration{});
    Diagnostics diagnostics;
    const auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    CHECK(dump(*timeline) == "C@0+7/8 Am@7/8+13/8 D7@5/2+1/2 Am@3+1/2 D7@7/2+1/2");
}

TEST_CASE("a push needs room before the place where the chord stands", "[chart]") {
    CHECK(struck_at(at(1, 1), kEighth, std::nullopt) == at(7, 8));
    CHECK(struck_at(at(1, 1), kEighth, at(3, 4)) == at(7, 8));
    CHECK(struck_at(at(1, 1), kEighth, at(7, 8)) == at(1, 1));
    CHECK(struck_at(at(1, 1), kEighth, at(15, 16)) == at(1, 1));
    CHECK(struck_at(at(1, 8), kEighth, std::nullopt) == at(0, 1));
    CHECK(struck_at(at(0, 1), kEighth, std::nullopt) == at(0, 1));
    CHECK(struck_at(at(1, 2), Duration{}, at(1, 2)) == at(1, 2));
}

TEST_CASE("chords of one place share the time up to the next place", "[chart]") {
    const auto shares = part_time({at(0, 1), at(1, 2), at(1, 2), at(3, 4)}, at(3, 2));
    REQUIRE(shares.size() == 4);
    CHECK(shares[0].length == kHalf);
    CHECK_FALSE(shares[0].is_parted);
    CHECK(shares[1].at == at(1, 2));
    CHECK(shares[1].length == kEighth);
    CHECK(shares[1].is_parted);
    CHECK(shares[2].at == at(5, 8));
    CHECK(shares[3].length == Duration{Rational{3, 4}});
    CHECK_FALSE(shares[3].is_parted);
    CHECK(part_time({at(0, 1), at(0, 1), at(0, 1)}, at(1, 1))[2].at == at(2, 3));
    CHECK(part_time({}, at(1, 1)).empty());
}

TEST_CASE("tied notes join only where they meet and have one pitch", "[chart]") {
    const Pitch g4{*parse_pitch_class("G"), 4};
    const Pitch a4{*parse_pitch_class("A"), 4};
    Bar first;
    first.melody = {{Position{}, kHalf, g4, true}, {at(1, 2), kHalf, g4, true}};
    Bar second;
    second.melody = {
        {Position{}, kQuarter, g4, true}, {at(1, 2), kQuarter, g4, true}, {at(3, 4), kQuarter, a4, false}};
    TiedMelody melody;
    melody.add(first, Position{});
    melody.add(second, at(1, 1));
    REQUIRE(melody.notes().size() == 3);
    CHECK(melody.notes()[0].length == Duration{Rational{5, 4}});
    CHECK(melody.notes()[1].at == at(3, 2));
    CHECK(melody.notes()[1].length == kQuarter);
    CHECK(melody.notes()[2].pitch == a4);
}

TEST_CASE("a chart has at most so many chords with all repeated bars, and one more is said", "[chart]") {
    Chart chart;
    chart.sections.emplace_back();
    std::vector<Bar>& bars = chart.sections[0].bars;
    bars.resize(kMostPlayed / 1000);
    for (int i = 0; i < 1000; ++i) bars[0].chords.push_back({at(i, 1000), parse_chord_symbol("C")});
    for (std::size_t i = 1; i < bars.size(); ++i) bars[i].simile = 1;
    CHECK(sounding_bars(written_bars(chart)).back().size() == 1000);
    bars.emplace_back();
    bars.back().chords.push_back({Position{}, parse_chord_symbol("F")});
    try {
        static_cast<void>(sounding_bars(written_bars(chart)));
        FAIL("too much is taken");
    } catch (const TooMuchToPlay& much) {
        CHECK(much.bar() == 500);
        CHECK(std::string{much.what()} == "more than 500000 chords with all repeats");
    }
}

}  // namespace shedbook
