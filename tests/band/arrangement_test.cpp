// What a rhythm section makes of a form: bars of another meter, choruses one after the other, pushes.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "../../src/band/bass_strokes.h"
#include "band_checks.h"
#include "band_tunes.h"
#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

// The bars in these meters, one after the other, a chord each.
Changes in_meters(const std::vector<Meter>& meters) {
    Changes out;
    Position at;
    for (std::size_t i = 0; i < meters.size(); ++i) {
        const Duration length = meters[i].bar_length();
        out.bars.push_back({at, length, meters[i]});
        out.chords.push_back({at, length, parse_chord_symbol(i % 2 == 0 ? "Fm7" : "Bb7"), 0});
        at += length;
    }
    return out;
}

std::vector<DrumNote> strokes_in(const std::vector<DrumNote>& drums, const BandBar& bar) {
    std::vector<DrumNote> out;
    std::ranges::copy_if(drums, std::back_inserter(out), [&](const DrumNote& note) {
        return bar.at <= note.at && note.at < bar.at + bar.length;
    });
    return out;
}

using DrumBar = std::vector<std::tuple<Rational, Drum, Touch>>;
DrumBar pattern_of(const std::vector<DrumNote>& drums, const BandBar& bar) {
    DrumBar out;
    for (const DrumNote& note : strokes_in(drums, bar))
        out.emplace_back((note.at - bar.at).whole_notes, note.drum, note.touch);
    return out;
}

}  // namespace

// Common practice, no source.
TEST_CASE("a bar of another meter has drums on each of its strong beats", "[band]") {
    const Meter four{4, 4};
    const Meter three{3, 4};
    const Meter five{5, 4};
    const Meter seven{7, 8, {2, 2, 3}};
    const Changes c = in_meters({four,  four, three, four, four, five, four, seven, four, three,
                                 three, four, four,  four, four, five, four, four,  four, four});
    for (const BandStyle style : {BandStyle::Swing, BandStyle::Latin, BandStyle::Pop, BandStyle::Straight,
                                  BandStyle::Shuffle, BandStyle::Ballad}) {
        for (unsigned seed = 1; seed <= 8; ++seed) {
            const std::vector<DrumNote> drums = play_drums(band_on(c, style, seed));
            for (std::size_t i = 0; i < c.bars.size(); ++i) {
                const std::vector<DrumNote> here = strokes_in(drums, c.bars[i]);
                INFO(to_word(style) << " seed " << seed << " bar " << i + 1);
                CHECK(here.size() >= 3);
                for (const Position at : placed_in(c.bars[i], group_places(c.bars[i].meter)))
                    CHECK(std::ranges::any_of(here, [&](const DrumNote& note) {
                        return at <= note.at && note.at < at + kQuarter;
                    }));
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("a bar of 7/8 begins with the kick", "[band]") {
    const Changes c = in_meters(std::vector<Meter>(16, Meter{7, 8, {2, 2, 3}}));
    for (const BandStyle style : {BandStyle::Latin, BandStyle::Pop, BandStyle::Straight}) {
        for (const int full : {1, 2, 3}) {
            for (unsigned seed = 1; seed <= 8; ++seed) {
                RhythmSection band = band_on(c, style, seed);
                band.choruses[0].full = full;
                const std::vector<DrumNote> drums = play_drums(band);
                for (const BandBar& bar : c.bars) {
                    INFO(to_word(style) << " " << full << " seed " << seed);
                    CHECK(std::ranges::any_of(drums, [&](const DrumNote& note) {
                        return note.at == bar.at && note.drum == Drum::Kick;
                    }));
                }
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("in every style the drums have four bars and more, none of them more than half of the time",
          "[band]") {
    for (const BandStyle style : styles()) {
        const Changes c = tune(2, meter_of(style));
        for (const int full : {1, 2, 3}) {
            for (unsigned seed = 1; seed <= 8; ++seed) {
                RhythmSection band = band_on(c, style, seed);
                band.choruses[0].full = full;
                band.quarters_per_minute = 100 + 20.0 * seed;
                std::map<DrumBar, std::size_t> heard;
                std::size_t most = 0;
                const std::vector<DrumNote> drums = play_drums(band);
                for (const BandBar& bar : c.bars) most = std::max(most, ++heard[pattern_of(drums, bar)]);
                INFO(to_word(style) << " " << full << " seed " << seed << ": " << heard.size() << " bars");
                CHECK(heard.size() >= 4);
                CHECK(2 * most <= c.bars.size() + 4);
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("in a dance bass, chords and kick come early together or not at all, and not often", "[band]") {
    for (const BandStyle style :
         {BandStyle::Latin, BandStyle::Pop, BandStyle::Straight, BandStyle::SixEight}) {
        const Changes c = tune(2, meter_of(style));
        std::size_t ties = 0;
        for (unsigned seed = 1; seed <= 24; ++seed) {
            const RhythmSection band = band_on(c, style, seed);
            const std::vector<BandNote> bass = play_bass(band);
            const std::vector<BandNote> chords = play_chords(band);
            const std::vector<DrumNote> drums = play_drums(band);
            const auto has_kick = [&](Position at) {
                return std::ranges::any_of(
                    drums, [&](const DrumNote& note) { return note.at == at && note.drum == Drum::Kick; });
            };
            const auto has = [](const std::vector<BandNote>& notes, Position at) {
                return std::ranges::find(notes, at, &BandNote::at) != notes.end();
            };
            std::optional<std::size_t> last;
            for (std::size_t bar = 0; bar < c.bars.size(); ++bar) {
                const Position one = c.bars[bar].at;
                INFO(to_word(style) << " seed " << seed << " bar " << bar + 1);
                const bool is_early = !has(bass, one);
                CHECK(has_kick(one) != is_early);
                if (bar > 0) CHECK(has(chords, one - kEighth) == is_early);
                if (!is_early) continue;
                CHECK(has_kick(one - kEighth));
                CHECK(has(bass, one - kEighth));
                CHECK(!has(chords, one));
                // The bar is not left without a beat of the bass.
                const Position end = one + c.bars[bar].length - kEighth;
                CHECK(std::ranges::any_of(
                    bass, [&](const BandNote& note) { return one < note.at && note.at < end; }));
                // Two bars and more begin on one between two that do not, and sections do.
                CHECK(bar % 8 != 0);
                if (last) CHECK(bar - *last >= 3);
                last = bar;
                ++ties;
            }
        }
        CHECK(ties >= 24);
        CHECK(4 * ties <= 24 * c.bars.size());
    }
}

// Common practice, no source.
TEST_CASE("a band does not come early into another meter", "[band]") {
    const Meter four{4, 4};
    const Meter three{3, 4};
    const Changes c = in_meters({four, four, three, four, four, three, three, four, four, three, four, four});
    for (const BandStyle style : {BandStyle::Latin, BandStyle::Pop, BandStyle::Straight}) {
        for (unsigned seed = 1; seed <= 24; ++seed) {
            const std::vector<BandNote> bass = play_bass(band_on(c, style, seed));
            for (std::size_t bar = 1; bar < c.bars.size(); ++bar) {
                if (c.bars[bar].meter == c.bars[bar - 1].meter) continue;
                INFO(to_word(style) << " seed " << seed << " bar " << bar + 1);
                CHECK(std::ranges::find(bass, c.bars[bar].at, &BandNote::at) != bass.end());
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("the side stick of a bossa never turns round, neither after fills nor where sections begin",
          "[band]") {
    for (const bool has_pickup : {false, true}) {
        Changes c = bars_of(std::vector<std::string>(45, "Dm7"));
        if (has_pickup) c.bars[0].length = kQuarter;
        const std::size_t first = has_pickup ? 1 : 0;
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, BandStyle::Latin, seed);
            band.sections = {c.bars[0].at, c.bars[7].at, c.bars[15].at, c.bars[20].at, c.bars[33].at};
            band.choruses[0].full = 1 + static_cast<int>(seed % 3);
            const std::vector<DrumNote> drums = play_drums(band);
            int bars = 0;
            for (std::size_t bar = first; bar < c.bars.size(); ++bar) {
                const std::vector<DrumNote> here = strokes_in(drums, c.bars[bar]);
                const auto sticks = std::ranges::count(here, Drum::SideStick, &DrumNote::drum);
                const bool is_fill = std::ranges::any_of(here, [](const DrumNote& note) {
                    return note.drum == Drum::Snare || note.drum == Drum::HighTom;
                });
                if (is_fill) continue;
                ++bars;
                INFO("seed " << seed << " bar " << bar + 1);
                CHECK(sticks == ((bar - first) % 2 == 0 ? 3 : 2));
            }
            CHECK(bars >= 36);
        }
    }
}

// Common practice, no source.
TEST_CASE("the snare of swing seldom says the same in two bars that follow each other", "[band]") {
    const Changes c = tune(3);
    for (const double tempo : {110.0, 160.0}) {
        int pairs = 0;
        int alike = 0;
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, BandStyle::Swing, seed);
            band.quarters_per_minute = tempo;
            band.choruses = {{c.bars[0].at, 2}, {c.bars[24].at, 3}};
            const std::vector<DrumNote> drums = play_drums(band);
            std::vector<Rational> before;
            for (const BandBar& bar : c.bars) {
                std::vector<Rational> here;
                for (const DrumNote& note : strokes_in(drums, bar)) {
                    if (note.drum == Drum::Snare) here.push_back((note.at - bar.at).whole_notes);
                }
                if (!here.empty()) {
                    ++pairs;
                    alike += here == before ? 1 : 0;
                }
                before = here;
            }
        }
        INFO(tempo << ": " << alike << " of " << pairs);
        CHECK(pairs > 600);
        CHECK(10 * alike <= pairs);
    }
}

// Common practice, no source.
TEST_CASE("the faster a swing tune, the less the ride skips, the kick feathers and the snare says",
          "[band]") {
    const Changes c = bars_of(std::vector<std::string>(64, "Dm7"));
    struct Counts {
        int skips = 0;     // of the ride
        int feathers = 0;  // soft kicks on beats
        int snare = 0;
    };
    const auto counts = [&](double tempo) {
        Counts out;
        for (unsigned seed = 1; seed <= 16; ++seed) {
            RhythmSection band = band_on(c, BandStyle::Swing, seed);
            band.quarters_per_minute = tempo;
            const std::vector<DrumNote> drums = play_drums(band);
            for (const BandBar& bar : c.bars) {
                int rides = 0;
                int feet = 0;
                for (const DrumNote& note : strokes_in(drums, bar)) {
                    const bool is_on_beat = ((note.at - bar.at) / kQuarter).den() == 1;
                    rides += note.drum == Drum::Ride && is_on_beat ? 1 : 0;
                    feet += note.drum == Drum::HiHatFoot && is_on_beat ? 1 : 0;
                    out.skips += note.drum == Drum::Ride && !is_on_beat ? 1 : 0;
                    out.feathers +=
                        note.drum == Drum::Kick && note.touch == Touch::Soft && is_on_beat ? 1 : 0;
                    out.snare += note.drum == Drum::Snare ? 1 : 0;
                }
                CHECK(feet == 2);
                CHECK(rides >= 1);
            }
        }
        return out;
    };
    const Counts slow = counts(112);
    const Counts medium = counts(160);
    const Counts fast = counts(232);
    const int bars = 16 * static_cast<int>(c.bars.size());
    INFO(slow.skips << " " << medium.skips << " " << fast.skips << ", " << slow.feathers << " "
                    << medium.feathers << " " << fast.feathers << ", " << slow.snare << " " << medium.snare
                    << " " << fast.snare);
    CHECK(10 * medium.skips <= 9 * slow.skips);
    CHECK(10 * fast.skips <= 6 * medium.skips);
    CHECK(slow.feathers >= 3 * bars);
    CHECK(10 * medium.feathers <= 9 * slow.feathers);
    CHECK(10 * fast.feathers <= bars);
    CHECK(10 * medium.snare <= 9 * slow.snare);
    CHECK(10 * fast.snare <= 8 * medium.snare);
}

// Common practice, no source.
TEST_CASE(
    "a chord of the last eighth before a bar is struck by all, and the kick leaves out the one after it",
    "[band]") {
    for (const BandStyle style : {BandStyle::Latin, BandStyle::Pop, BandStyle::Straight, BandStyle::Swing}) {
        Changes c = bars_of({"Dm7", "G7", "Cmaj7", "Am9", "Gm7", "C7", "Fmaj7", "Bb7"});
        c.chords[3].length -= kEighth;
        const Position push = c.chords[4].at - kEighth;
        c.chords.insert(c.chords.begin() + 4, {push, kEighth, parse_chord_symbol("Ab7(#11)"), 0});
        for (unsigned seed = 1; seed <= 24; ++seed) {
            const RhythmSection band = band_on(c, style, seed);
            const std::vector<BandNote> bass = play_bass(band);
            INFO(to_word(style) << " seed " << seed);
            const auto note = std::ranges::find(bass, push, &BandNote::at);
            REQUIRE(note != bass.end());
            CHECK(note->key % 12 == 8);
            CHECK(std::ranges::find(bass, push + kEighth, &BandNote::at) != bass.end());
            const std::vector<DrumNote> drums = play_drums(band);
            const auto kicks = [&](Position at) {
                return std::ranges::count_if(
                    drums, [&](const DrumNote& each) { return each.at == at && each.drum == Drum::Kick; });
            };
            CHECK(kicks(push) == 1);
            CHECK(kicks(push + kEighth) == 0);
        }
    }
}

// Common practice, no source.
TEST_CASE("a rock bass leaps an octave where its figure does, never at random", "[band]") {
    for (const BandStyle style :
         {BandStyle::Pop, BandStyle::Latin, BandStyle::Straight, BandStyle::SixEight}) {
        const Changes c = tune(2, meter_of(style));
        for (unsigned seed = 1; seed <= 24; ++seed) {
            const RhythmSection band = band_on(c, style, seed);
            const std::vector<BandNote> bass = play_bass(band);
            const std::vector<BassStroke> strokes = bass_strokes(band, form_places(band));
            REQUIRE(bass.size() == strokes.size());
            for (std::size_t i = 0; i < bass.size(); ++i) {
                for (std::size_t k = i + 1; k < std::min(i + 3, bass.size()); ++k) {
                    if (strokes[i].bar != strokes[k].bar || strokes[i].chord != strokes[k].chord) continue;
                    const std::string signs{strokes[i].sign, strokes[k].sign};
                    const int apart = std::abs(bass[k].key - bass[i].key);
                    INFO(to_word(style) << " seed " << seed << " bar " << strokes[i].bar + 1 << " " << signs);
                    if (signs == "RR" || (signs == "55" && k == i + 1)) CHECK(apart == 0);
                    if (signs == "R8" || signs == "8R") CHECK(apart == 12);
                }
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("the bass of a dance has more notes from chorus to chorus", "[band]") {
    for (const BandStyle style :
         {BandStyle::Pop, BandStyle::Latin, BandStyle::Straight, BandStyle::SixEight}) {
        const Changes c = tune(3, meter_of(style));
        std::array<int, 3> counts{};
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.choruses = {{c.bars[0].at, 1, BassPulse::Two}, {c.bars[16].at, 2}, {c.bars[32].at, 3}};
            for (const BandNote& note : play_bass(band))
                ++counts[note.at < c.bars[16].at ? 0U : note.at < c.bars[32].at ? 1U : 2U];
        }
        INFO(to_word(style) << " " << counts[0] << " " << counts[1] << " " << counts[2]);
        CHECK(100 * counts[1] >= 105 * counts[0]);
        CHECK(100 * counts[2] >= 105 * counts[1]);
    }
}

// Common practice, no source.
TEST_CASE("of seven fills none comes twice in a row, and three are different", "[band]") {
    for (const BandStyle style : styles()) {
        const Changes c = bars_of(std::vector<std::string>(56, "Dm7"), meter_of(style));
        for (unsigned seed = 1; seed <= 16; ++seed) {
            const std::vector<DrumNote> drums = play_drums(band_on(c, style, seed));
            std::set<DrumBar> fills;
            DrumBar last;
            for (std::size_t bar = 7; bar < c.bars.size(); bar += 8) {
                const DrumBar here = pattern_of(drums, c.bars[bar]);
                INFO(to_word(style) << " seed " << seed << " bar " << bar + 1);
                CHECK(here != last);
                fills.insert(here);
                last = here;
            }
            CHECK(fills.size() >= 3);
        }
    }
}

}  // namespace shedbook
