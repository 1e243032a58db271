#include "shedbook/band/rhythm_section.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <set>
#include <string>

#include "../../src/band/figures.h"
#include "band_checks.h"
#include "band_tunes.h"
#include "random_changes.h"
#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

const std::array<Meter, 9> kMetersPlayed{Meter{4, 4},  Meter{3, 4}, Meter{2, 2},
                                         Meter{5, 4},  Meter{6, 8}, Meter{5, 4, {2, 3}},
                                         Meter{12, 8}, Meter{7, 8}, Meter{2, 4}};

// Where strokes begin in a bar.
std::vector<Rational> rhythm_of(const std::vector<BandNote>& notes, const BandBar& bar) {
    std::vector<Rational> out;
    for (const std::vector<BandNote>& hit : by_onset(notes)) {
        const Position at = hit.front().at;
        if (at >= bar.at && at < bar.at + bar.length) out.push_back((at - bar.at).whole_notes);
    }
    return out;
}

std::set<std::vector<Rational>> rhythms(const std::vector<BandNote>& notes, const Changes& c) {
    std::set<std::vector<Rational>> out;
    for (const BandBar& bar : c.bars) out.insert(rhythm_of(notes, bar));
    return out;
}

}  // namespace

TEST_CASE("every style has six figures of chords and more in its meter, drums, fills and a bass", "[band]") {
    for (const BandStyle style : styles()) {
        INFO(to_word(style));
        const std::vector<BarPart> parts = parts_of(meter_of(style));
        REQUIRE(parts.size() == 1);
        CHECK(chord_figures(style, parts[0]).size() >= 6);
        CHECK(bass_figures(style, BassPulse::Four, parts[0]).size() >= 3);
        CHECK(bass_figures(style, BassPulse::Two, parts[0]).size() >= 3);
        CHECK(!drum_figures(style, true, parts[0]).empty());
        std::set<int> full;
        for (const DrumFigure& figure : drum_figures(style, false, parts[0])) full.insert(figure.full);
        CHECK(full == std::set<int>{1, 2, 3});
    }
}

TEST_CASE("every stroke of a figure lies on an eighth of its part, with a sign that has a meaning",
          "[band]") {
    const auto check = [](const Strokes& strokes, const BarPart& part, const std::string& signs) {
        for (const Stroke& stroke : strokes) {
            CHECK((stroke.at / kEighth).den() == 1);
            CHECK(stroke.at + stroke.length <= part.length);
            CHECK(signs.find(stroke.sign) != std::string::npos);
        }
    };
    for (const BandStyle style : styles()) {
        for (const Meter& meter : kMetersPlayed) {
            for (const BarPart& part : parts_of(meter)) {
                INFO(to_word(style) << " in " << to_string(meter));
                const auto& bass = bass_figures(style, BassPulse::Four, part);
                CHECK(!bass.empty());
                for (const BandFigure& figure : bass) check(figure.strokes, part, "wRl5t3s8");
                for (const BandFigure& figure : bass_figures(style, BassPulse::Two, part))
                    check(figure.strokes, part, "wRl5t3s8");
                for (const BandFigure& figure : chord_figures(style, part))
                    check(figure.strokes, part, "xX>");
                CHECK(!drum_figures(style, false, part).empty());
                for (const DrumFigure& figure : drum_figures(style, false, part)) {
                    for (const auto& [drum, bars] : figure.voices) {
                        for (const Strokes& strokes : bars) check(strokes, part, "xXo");
                    }
                }
            }
        }
    }
}

TEST_CASE("whatever the changes, the played bass is in range, alone, and foreign notes go on by step",
          "[band]") {
    RandomChanges random{7};
    for (const BandStyle style : styles()) {
        for (int round = 0; round < 24; ++round) {
            const Changes c =
                random.make(kMetersPlayed[static_cast<std::size_t>(round) % kMetersPlayed.size()], 24);
            RhythmSection band = band_on(c, style, static_cast<unsigned>(round));
            band.choruses[0].pulse = round % 2 == 0 ? BassPulse::Four : BassPulse::Two;
            const std::vector<BandNote> bass = play_bass(band);
            INFO(to_word(style) << " round " << round);
            CHECK(bass.size() > 20);
            for (std::size_t i = 0; i < bass.size(); ++i) {
                CHECK(bass[i].key >= kBassLowest);
                CHECK(bass[i].key <= kBandBassHighest);
                CHECK(bass[i].length > Duration{});
                CHECK(chord_at(c.chords, bass[i].at) != nullptr);
                if (i == 0) continue;
                CHECK(bass[i - 1].at + bass[i - 1].length <= bass[i].at);
                CHECK(std::abs(bass[i].key - bass[i - 1].key) <= 12);
            }
        }
    }
}

TEST_CASE("whatever the changes, the chords name each, in range, with little movement", "[band]") {
    RandomChanges random{11};
    for (const BandStyle style : styles()) {
        for (int round = 0; round < 16; ++round) {
            const Changes c =
                random.make(kMetersPlayed[static_cast<std::size_t>(round) % kMetersPlayed.size()], 24);
            const CompingCount count =
                count_comping(play_chords(band_on(c, style, static_cast<unsigned>(round))), c.chords);
            INFO(to_word(style) << " round " << round);
            CHECK(count.chords >= 12);
            CHECK(count.outside_range == 0);
            CHECK(count.guide_tones_missed == 0);
            CHECK(count.strangers == 0);
            CHECK(count.silent_changes == 0);
            CHECK(count.movement < 3 * count.moves);
        }
    }
}

// Common practice, no source.
TEST_CASE("a mode that lasts sixteen bars is not one voicing all the time", "[band]") {
    for (const bool is_written_once : {true, false}) {
        std::vector<std::string> bars(16, is_written_once ? "" : "Dm7");
        bars.front() = "Dm7";
        for (const char* symbol : {"Dm7", "Fmaj7(#11)", "G7sus4", "C6"}) {
            for (std::string& bar : bars) bar = bar.empty() ? bar : symbol;
            for (const BandStyle style : styles()) {
                for (unsigned seed = 1; seed <= 8; ++seed) {
                    const Changes c = bars_of(bars, meter_of(style));
                    const std::vector<BandNote> chords = play_chords(band_on(c, style, seed));
                    INFO(to_word(style) << " " << symbol << " seed " << seed);
                    std::set<std::vector<int>> voicings;
                    std::vector<int> last;
                    Position since = c.bars.front().at;
                    for (const std::vector<BandNote>& hit : by_onset(chords)) {
                        std::vector<int> keys(hit.size());
                        std::ranges::transform(hit, keys.begin(), &BandNote::key);
                        voicings.insert(keys);
                        if (keys != last) since = hit.front().at;
                        last = keys;
                        CHECK(hit.front().at - since <= c.bars[0].length * Rational{5, 2});
                    }
                    CHECK(voicings.size() >= 3);
                    const CompingCount count = count_comping(chords, c.chords);
                    CHECK(count.guide_tones_missed + count.strangers + count.outside_range == 0);
                    CHECK(count.movement <= 3.0 * count.moves);
                }
            }
        }
    }
}

TEST_CASE("no chord is silence for bass and chords, and the drums keep time on the hi-hat", "[band]") {
    const Changes c = bars_of({"Dm7", "G7", "N.C.", "N.C.", "Cmaj7", "A7"});
    for (const BandStyle style : styles()) {
        const RhythmSection band = band_on(c, style);
        for (const BandNote& note : play_bass(band)) CHECK(chord_at(c.chords, note.at)->symbol);
        for (const BandNote& note : play_chords(band)) CHECK(chord_at(c.chords, note.at)->symbol);
        int in_silence = 0;
        for (const DrumNote& note : play_drums(band)) {
            if (chord_at(c.chords, note.at)->symbol) continue;
            ++in_silence;
            CHECK((note.drum == Drum::HiHat || note.drum == Drum::HiHatFoot));
        }
        if (style != BandStyle::SixEight) CHECK(in_silence >= 4);
    }
}

TEST_CASE("a written bass stands on its change in every style", "[band]") {
    const Changes c = bars_of({"C", "C/E", "F", "C/G", "G7/F", "C/E", "Dm7/G", "C"});
    for (const BandStyle style : styles()) {
        for (unsigned seed = 1; seed <= 8; ++seed) {
            const std::vector<BandNote> bass = play_bass(band_on(c, style, seed));
            for (const std::size_t bar : {1U, 3U, 4U, 5U, 6U}) {
                // At the barline, or early and tied over it.
                const auto note = std::ranges::find_if(bass, [&](const BandNote& each) {
                    return each.at <= c.bars[bar].at && c.bars[bar].at < each.at + each.length;
                });
                REQUIRE(note != bass.end());
                CHECK(note->key % 12 == c.chords[bar].symbol->bass->semitone());
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("a walking bar has its bass on a strong beat or tones of the chord on all of them", "[band]") {
    for (const BandStyle style : {BandStyle::Swing, BandStyle::Ballad, BandStyle::Waltz}) {
        const Meter meter = meter_of(style);
        const Changes c = bars_of(
            {"Gm7", "", "C7", "", "Fmaj7", "D7", "Gm7", "C7", "F6", "", "", "", "Bbmaj7", "Eb7"}, meter);
        for (unsigned seed = 1; seed <= 40; ++seed) {
            const std::vector<BandNote> bass = play_bass(band_on(c, style, seed));
            for (const BandBar& bar : c.bars) {
                bool has_bass = false;
                bool has_tones = true;
                for (const Position place : placed_in(bar, group_places(meter))) {
                    const auto after = std::ranges::upper_bound(bass, place, {}, &BandNote::at);
                    REQUIRE(after != bass.begin());
                    const int key = (after - 1)->key;
                    const ChordSymbol& symbol = *chord_at(c.chords, place)->symbol;
                    has_bass |= key % 12 == bass_class(symbol);
                    has_tones &= has_tone(symbol, key - symbol.root.semitone() + 12);
                }
                INFO(to_word(style) << " seed " << seed);
                CHECK((has_bass || has_tones));
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("a walking bass has the bass of a chord within two beats, and no other note on a change twice",
          "[band]") {
    int others = 0;
    for (const BandStyle style :
         {BandStyle::Swing, BandStyle::Ballad, BandStyle::Waltz, BandStyle::Shuffle}) {
        const Meter meter = meter_of(style);
        Changes c = tune(2, meter);
        // Two chords in every other bar.
        for (std::size_t bar = 1; meter.beats == 4 && bar < c.bars.size(); bar += 2) {
            const std::size_t at = bar + bar / 2;
            c.chords[at].length = kHalf;
            c.chords.insert(c.chords.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                            {c.bars[bar].at + kHalf, kHalf, parse_chord_symbol("Ebm7"), 0});
        }
        for (const BassPulse pulse : {BassPulse::Four, BassPulse::Two}) {
            for (unsigned seed = 1; seed <= 16; ++seed) {
                RhythmSection band = band_on(c, style, seed);
                band.choruses[0].pulse = pulse;
                const std::vector<BandNote> bass = play_bass(band);
                for (const BandChord& chord : c.chords) {
                    INFO(to_word(style) << " " << to_word(pulse) << " seed " << seed << " "
                                        << to_string(*chord.symbol) << " at " << chord.at.whole_notes.num());
                    const auto first = std::ranges::find(bass, chord.at, &BandNote::at);
                    REQUIRE(first != bass.end());
                    CHECK(std::any_of(first, bass.end(), [&](const BandNote& note) {
                        return note.at < chord.at + chord.length && note.at <= chord.at + kHalf &&
                               note.key % 12 == bass_class(*chord.symbol);
                    }));
                    if (first->key % 12 == bass_class(*chord.symbol)) continue;
                    ++others;
                    const auto next = std::find_if(first + 1, bass.end(), [](const BandNote& note) {
                        return note.touch != Touch::Soft;  // no skip
                    });
                    REQUIRE(next != bass.end());
                    CHECK(next->key % 12 != first->key % 12);
                }
            }
        }
    }
    CHECK(others > 400);
}

// Common practice, no source.
TEST_CASE("in two a change on a weak beat takes the place of the note after it", "[band]") {
    Changes c = tune();
    for (std::size_t bar = 1; bar < c.bars.size(); bar += 2) {
        BandChord& chord = c.chords[bar];
        c.chords[bar - 1].length += kQuarter;
        chord.at += kQuarter;
        chord.length -= kQuarter;
    }
    for (const BandStyle style : {BandStyle::Ballad, BandStyle::Swing}) {
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.choruses[0].pulse = BassPulse::Two;
            const std::vector<BandNote> bass = play_bass(band);
            for (std::size_t bar = 1; bar < c.bars.size(); bar += 2) {
                INFO(to_word(style) << " seed " << seed << " bar " << bar + 1);
                const auto change = std::ranges::find(bass, c.chords[bar].at, &BandNote::at);
                REQUIRE(change != bass.end());
                CHECK(change->length > kQuarter);
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("a bass stops at a fermata on the bass of its chord", "[band]") {
    const Changes c = tune();
    for (const BandStyle style : {BandStyle::Swing, BandStyle::Ballad, BandStyle::Shuffle}) {
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.choruses[0].pulse = seed % 2 == 0 ? BassPulse::Two : BassPulse::Four;
            for (const std::size_t bar : {3U, 6U, 10U}) {
                band.holds.push_back(c.bars[bar].at);
                band.holds.push_back(c.bars[bar].at + kHalf);
            }
            const std::vector<BandNote> bass = play_bass(band);
            for (const Position hold : band.holds) {
                const auto note = std::ranges::upper_bound(bass, hold, {}, &BandNote::at) - 1;
                INFO(to_word(style) << " seed " << seed);
                CHECK(note->key % 12 == bass_class(*chord_at(c.chords, hold)->symbol));
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("a slow tune in two has no bar of walking quarters, whatever its meters", "[band]") {
    Changes c;
    Position at;
    for (const Meter& meter : {Meter{4, 4}, Meter{2, 4}, Meter{4, 4}, Meter{5, 4}, Meter{4, 4}, Meter{6, 4},
                               Meter{4, 4}, Meter{3, 4}, Meter{7, 4}, Meter{4, 4}}) {
        c.bars.push_back({at, meter.bar_length(), meter});
        c.chords.push_back({at, meter.bar_length(), parse_chord_symbol("Am7"), 0});
        at += meter.bar_length();
    }
    for (const BandStyle style : {BandStyle::Ballad, BandStyle::Swing}) {
        for (unsigned seed = 1; seed <= 40; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.choruses[0].pulse = BassPulse::Two;
            const std::vector<BandNote> bass = play_bass(band);
            for (const BandBar& bar : c.bars) {
                int on_beats = 0;
                for (Duration beat; beat < bar.length; beat += kQuarter)
                    on_beats += std::ranges::find(bass, bar.at + beat, &BandNote::at) != bass.end() ? 1 : 0;
                INFO(to_word(style) << " seed " << seed << " in " << to_string(bar.meter));
                CHECK((on_beats < bar.meter.beats || bar.meter.beats == 2));
                CHECK(4 * on_beats <= 3 * bar.meter.beats + 2);
            }
        }
    }
}

// What docs/sound.md says; the Weimar Jazz Database has it in the takes of its upper quarter, bass_figures.h.
TEST_CASE("a swing bass stands on the root of three changes in four", "[band]") {
    const Changes c = tune(2);
    int changes = 0;
    int roots = 0;
    for (unsigned seed = 1; seed <= 16; ++seed) {
        const std::vector<BandNote> bass = play_bass(band_on(c, BandStyle::Swing, seed));
        for (const BandChord& chord : c.chords) {
            const auto note = std::ranges::find(bass, chord.at, &BandNote::at);
            REQUIRE(note != bass.end());
            ++changes;
            roots += note->key % 12 == bass_class(*chord.symbol) ? 1 : 0;
        }
    }
    CHECK(100 * roots >= 70 * changes);
    CHECK(100 * roots <= 85 * changes);
}

// Common practice, no source.
TEST_CASE("a latin bass comes early and is tied over the barline, a swing bass is not", "[band]") {
    constexpr unsigned kSeeds = 16;
    const auto tied = [](BandStyle style) {
        const Changes c = tune();
        std::ptrdiff_t out = 0;
        for (unsigned seed = 1; seed <= kSeeds; ++seed) {
            const std::vector<BandNote> bass = play_bass(band_on(c, style, seed));
            out += std::ranges::count_if(bass, [&](const BandNote& note) {
                return std::ranges::any_of(c.bars, [&](const BandBar& bar) {
                    return note.at < bar.at && note.at + note.length > bar.at;
                });
            });
        }
        return out;
    };
    CHECK(tied(BandStyle::Latin) >= 2 * kSeeds);
    CHECK(tied(BandStyle::Latin) <= 4 * kSeeds);
    CHECK(tied(BandStyle::Swing) == 0);
    CHECK(tied(BandStyle::Waltz) == 0);
}

TEST_CASE("in two the bass has about half as many notes, on one and three", "[band]") {
    const Changes c = tune();
    RhythmSection band = band_on(c, BandStyle::Swing);
    const std::size_t four = play_bass(band).size();
    band.choruses[0].pulse = BassPulse::Two;
    const std::vector<BandNote> two = play_bass(band);
    CHECK(4 * two.size() <= 3 * four);
    for (const BandBar& bar : c.bars) CHECK(std::ranges::find(two, bar.at, &BandNote::at) != two.end());
}

// Common practice, no source.
TEST_CASE("a bass note longer than a beat is a tone of its chord", "[band]") {
    for (const BandStyle style :
         {BandStyle::Swing, BandStyle::Ballad, BandStyle::Waltz, BandStyle::Shuffle}) {
        const Changes c = bars_of({"Am7b5", "D7(b9)", "Gm6", "Gm7", "Cm7", "F7(b9)", "Bbmaj7", "Ebmaj7",
                                   "Em7b5", "A7(b9)", "Dm7b5", "D7alt"},
                                  meter_of(style));
        for (unsigned seed = 1; seed <= 24; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.choruses[0].pulse = BassPulse::Two;
            for (const BandNote& note : play_bass(band)) {
                if (note.length <= kQuarter) continue;
                const ChordSymbol& symbol = *chord_at(c.chords, note.at)->symbol;
                INFO(to_word(style) << " seed " << seed << " " << to_string(symbol) << " " << note.key);
                CHECK(has_tone(symbol, note.key - symbol.root.semitone() + 12));
            }
        }
    }
}

TEST_CASE("chords are played in many rhythms, chosen by phrase, and another way by another seed", "[band]") {
    for (const BandStyle style : styles()) {
        const Changes c = tune(2, meter_of(style));
        INFO(to_word(style));
        CHECK(rhythms(play_chords(band_on(c, style)), c).size() >= 5);
        CHECK(play_chords(band_on(c, style, 3)) == play_chords(band_on(c, style, 3)));
        CHECK(play_chords(band_on(c, style, 3)) != play_chords(band_on(c, style, 4)));
    }
}

TEST_CASE("each style uses six rhythms and more, and no rhythm more than three times in eight bars",
          "[band]") {
    for (const BandStyle style : styles()) {
        const Changes c = tune(2, meter_of(style));
        for (unsigned seed = 1; seed <= 12; ++seed) {
            for (const bool has_line : {false, true}) {
                std::vector<BandNote> line;
                for (const BandBar& bar : c.bars) {
                    for (Duration at; at < bar.length; at += kEighth)
                        line.push_back({bar.at + at, kEighth, 74});
                }
                RhythmSection band = band_on(c, style, seed);
                if (has_line) band.line = line;
                const std::vector<BandNote> notes = play_chords(band);
                INFO(to_word(style) << " seed " << seed << (has_line ? " under a line" : ""));
                CHECK(rhythms(notes, c).size() >= (has_line ? 4U : 6U));
                // A dance keeps to its patterns.
                if (style == BandStyle::Latin) continue;
                for (std::size_t from = 0; from + 8 <= c.bars.size(); ++from) {
                    std::map<std::vector<Rational>, int> heard;
                    for (std::size_t bar = from; bar < from + 8; ++bar) {
                        const std::vector<Rational> here = rhythm_of(notes, c.bars[bar]);
                        if (!here.empty()) CHECK(++heard[here] <= 3);
                    }
                }
            }
        }
    }
}

TEST_CASE("chords are fewer under a busy line, and answer in its rests", "[band]") {
    const Changes c = tune(2);
    std::vector<BandNote> busy;
    std::vector<BandNote> calm;  // two beats in every bar, then it rests
    for (const BandBar& bar : c.bars) {
        for (int i = 0; i < 8; ++i) busy.push_back({bar.at + kEighth * Rational{i}, kEighth, 74});
        for (int i = 0; i < 2; ++i) calm.push_back({bar.at + kQuarter * Rational{i}, kQuarter, 74});
    }
    std::size_t under_busy = 0;
    std::size_t under_calm = 0;
    std::size_t in_rests = 0;
    for (unsigned seed = 1; seed <= 8; ++seed) {
        RhythmSection band = band_on(c, BandStyle::Swing, seed);
        band.line = busy;
        under_busy += by_onset(play_chords(band)).size();
        band.line = calm;
        for (const std::vector<BandNote>& hit : by_onset(play_chords(band))) {
            ++under_calm;
            in_rests +=
                (hit.front().at.whole_notes - Rational{hit.front().at.whole_notes.floor()}) >= Rational{1, 2}
                    ? 1
                    : 0;
        }
    }
    CHECK(10 * under_busy <= 8 * under_calm);
    CHECK(10 * in_rests >= 6 * under_calm);
}

TEST_CASE("under running eighths the chords are few and soft, and answer in the gap after them", "[band]") {
    const Changes c = tune(2);
    // Eighths for a bar and two beats, then two beats of rest.
    std::vector<BandNote> line;
    for (std::size_t bar = 0; bar < c.bars.size(); ++bar) {
        for (int i = 0; i < (bar % 2 == 0 ? 8 : 4); ++i)
            line.push_back({c.bars[bar].at + kEighth * Rational{i}, kEighth, 74});
    }
    for (const BandStyle style : {BandStyle::Swing, BandStyle::Ballad, BandStyle::Latin, BandStyle::Pop,
                                  BandStyle::Straight, BandStyle::Shuffle}) {
        int under = 0;
        int soft = 0;
        int in_gap = 0;
        int soft_in_gap = 0;
        constexpr int kSeeds = 8;
        for (unsigned seed = 1; seed <= kSeeds; ++seed) {
            RhythmSection band = band_on(c, style, seed);
            band.line = line;
            for (const std::vector<BandNote>& hit : by_onset(play_chords(band))) {
                const auto after = std::ranges::upper_bound(line, hit.front().at, {}, &BandNote::at);
                const BandNote& last = *(after - 1);
                const bool is_gap = hit.front().at >= last.at + last.length;
                const bool runs = !is_gap && after != line.end() && after->at == last.at + last.length;
                const bool is_soft = hit.front().touch == Touch::Soft;
                in_gap += is_gap ? 1 : 0;
                soft_in_gap += is_gap && is_soft ? 1 : 0;
                under += runs ? 1 : 0;
                soft += runs && is_soft ? 1 : 0;
            }
        }
        const int pairs = kSeeds * static_cast<int>(c.bars.size()) / 2;
        INFO(to_word(style) << ": " << under << " under the line, " << soft << " of them soft, " << in_gap
                            << " in the gaps of " << pairs);
        CHECK(2 * under <= 5 * pairs);
        CHECK(10 * soft >= 9 * under);
        CHECK(10 * in_gap >= 7 * pairs);
        CHECK(10 * soft_in_gap <= 3 * in_gap);
    }
}

TEST_CASE("no guide tone is struck on the key that the line has", "[band]") {
    const Changes c = tune(2);
    for (int key = 55; key <= 76; ++key) {
        std::vector<BandNote> line;
        for (const BandBar& bar : c.bars) line.push_back({bar.at, bar.length, key});
        RhythmSection band = band_on(c, BandStyle::Swing, static_cast<unsigned>(key));
        band.line = line;
        for (const std::vector<BandNote>& hit : by_onset(play_chords(band))) {
            const BandChord* chord = chord_struck(c.chords, hit.front().at);
            std::vector<int> guides = comping_tones(*chord->symbol);
            guides.resize(2);
            for (const BandNote& note : hit)
                CHECK((note.key != key || std::ranges::find(guides, key % 12) == guides.end()));
        }
    }
}

TEST_CASE("later choruses are fuller, and sections end with a fill", "[band]") {
    const Changes c = tune(3);
    RhythmSection band = band_on(c, BandStyle::Swing);
    band.choruses = {{c.bars[0].at, 1, BassPulse::Two},
                     {c.bars[16].at, 2, BassPulse::Four},
                     {c.bars[32].at, 3, BassPulse::Four}};
    const std::vector<DrumNote> drums = play_drums(band);
    std::array<int, 3> counts{};
    for (const DrumNote& note : drums) {
        const auto chorus = std::min<std::int64_t>(2, (note.at.whole_notes * Rational{1, 16}).floor());
        ++counts[static_cast<std::size_t>(chorus)];
    }
    CHECK(counts[0] < counts[1]);
    CHECK(counts[1] < counts[2]);
    const auto crash = [&](std::size_t bar) {
        return std::ranges::find(drums, DrumNote{c.bars[bar].at, Drum::Crash, Touch::Plain}) != drums.end();
    };
    CHECK(crash(32));
    CHECK(std::ranges::any_of(
        drums, [&](const DrumNote& note) { return note.at == c.bars[32].at && note.drum == Drum::Kick; }));
    CHECK(!crash(16));
    // Eight bars are a section where the page marks none; in its last two beats the ride gives way.
    for (const std::size_t bar : {7U, 15U, 23U, 31U}) {
        const bool has_snare = std::ranges::any_of(drums, [&](const DrumNote& note) {
            return note.at >= c.bars[bar].at + kHalf && note.at < c.bars[bar].at + kWhole &&
                   note.drum == Drum::Snare && note.touch != Touch::Soft;
        });
        INFO(bar);
        CHECK(has_snare);
    }
}

// Common practice, no source.
TEST_CASE("a bossa in two keeps its lilt: the bass moves off the beat in every bar", "[band]") {
    const Changes c = tune();
    for (unsigned seed = 1; seed <= 8; ++seed) {
        RhythmSection band = band_on(c, BandStyle::Latin, seed);
        band.choruses[0].pulse = BassPulse::Two;
        const std::vector<BandNote> bass = play_bass(band);
        for (const BandBar& bar : c.bars) {
            CHECK(std::ranges::any_of(bass, [&](const BandNote& note) {
                return note.at >= bar.at && note.at < bar.at + bar.length &&
                       ((note.at - bar.at) / kQuarter).den() == 2;
            }));
        }
    }
}

// Common practice, no source.
TEST_CASE("straight eighths are ridden and have no side stick, a bossa has one", "[band]") {
    const Changes c = tune(3);
    const auto drums = [&](BandStyle style) {
        RhythmSection band = band_on(c, style);
        band.choruses = {{c.bars[0].at, 1}, {c.bars[16].at, 2}, {c.bars[32].at, 3}};
        std::set<Drum> out;
        for (const DrumNote& note : play_drums(band)) out.insert(note.drum);
        return out;
    };
    CHECK(!drums(BandStyle::Straight).contains(Drum::SideStick));
    CHECK(drums(BandStyle::Straight).contains(Drum::Ride));
    CHECK(drums(BandStyle::Latin).contains(Drum::SideStick));
}

// Common practice, no source.
TEST_CASE("fills come at the ends of phrases, not each time round a vamp or a short drill", "[band]") {
    const Changes c = tune(1);
    const auto fills = [&](const RhythmSection& band) {
        std::vector<std::size_t> out;
        const std::vector<DrumNote> drums = play_drums(band);
        for (std::size_t bar = 0; bar < c.bars.size(); ++bar) {
            // Two beats of the ride give way.
            const bool rides = std::ranges::any_of(drums, [&](const DrumNote& note) {
                return note.at == c.bars[bar].at + kQuarter * Rational{3} && note.drum == Drum::Ride;
            });
            if (!rides) out.push_back(bar);
        }
        return out;
    };
    for (unsigned seed = 1; seed <= 16; ++seed) {
        RhythmSection band = band_on(c, BandStyle::Swing, seed);
        const auto within = [&](const std::vector<std::size_t>& ends) {
            for (const std::size_t bar : fills(band)) CHECK(std::ranges::find(ends, bar) != ends.end());
        };
        // Two bars four times, then eight.
        band.sections = {c.bars[0].at, c.bars[2].at, c.bars[4].at, c.bars[6].at, c.bars[8].at};
        within({7, 15});
        // An introduction of two bars is a section of its own.
        band.sections = {c.bars[0].at, c.bars[2].at};
        within({1, 15});
        band.sections = {};
        within({7, 15});
        band.choruses.clear();
        for (std::size_t bar = 0; bar < 16; bar += 2)
            band.choruses.push_back({c.bars[bar].at, 2, BassPulse::Four});
        within({7, 15});
        band.choruses = {{c.bars[0].at}, {c.bars[12].at}};
        within({11, 15});
    }
}

// Common practice, no source.
TEST_CASE("in odd meters too the drums have two patterns and more, and a fill at the end", "[band]") {
    for (const BandStyle style : styles()) {
        for (const Meter& meter : {Meter{5, 4}, Meter{5, 4, {2, 3}}, Meter{7, 8}, Meter{7, 4}, Meter{9, 8},
                                   Meter{5, 8}, Meter{3, 4}, Meter{2, 4}, Meter{8, 8, {3, 3, 2}}}) {
            for (const int full : {1, 2, 3}) {
                INFO(to_word(style) << " in " << to_string(meter) << ", " << full);
                const Changes c = bars_of(std::vector<std::string>(16, "Dm7"), meter);
                RhythmSection band = band_on(c, style, 5);
                band.choruses[0].full = full;
                const std::vector<DrumNote> drums = play_drums(band);
                std::set<std::vector<std::pair<Rational, Drum>>> patterns;
                const auto bar_of = [&](std::size_t which) {
                    const BandBar& bar = c.bars[which];
                    std::vector<std::pair<Rational, Drum>> out;
                    for (const DrumNote& note : drums) {
                        if (note.at >= bar.at && note.at < bar.at + bar.length)
                            out.emplace_back((note.at - bar.at).whole_notes, note.drum);
                    }
                    return out;
                };
                for (std::size_t bar = 0; bar < 7; ++bar) patterns.insert(bar_of(bar));
                CHECK(patterns.size() >= 2);
                CHECK(!patterns.contains(bar_of(7)));
                const BandBar& last = c.bars[7];
                CHECK(std::ranges::any_of(drums, [&](const DrumNote& note) {
                    const bool is_struck = note.drum == Drum::Snare || note.drum == Drum::HighTom;
                    return is_struck && note.touch != Touch::Soft &&
                           note.at >= last.at + last.length * Rational{1, 4} &&
                           note.at < last.at + last.length;
                }));
            }
        }
    }
}

// Common practice, no source.
TEST_CASE("bass, chords and drums strike a written push together, and leave out the beat after it",
          "[band]") {
    for (const BandStyle style : styles()) {
        for (const Meter& meter : {meter_of(style), Meter{5, 4}, Meter{7, 4}}) {
            Changes c = bars_of(
                std::vector<std::string>{"Dm7", "G7", "Cmaj7", "A7", "Dm7", "G7", "Em7", "A7"}, meter);
            for (const std::size_t bar : {2U, 3U, 6U}) {
                c.chords[bar - 1].length -= kEighth;
                c.chords[bar].at = c.chords[bar].at - kEighth;
                c.chords[bar].length += kEighth;
            }
            for (unsigned seed = 1; seed <= 8; ++seed) {
                const RhythmSection band = band_on(c, style, seed);
                const std::vector<BandNote> bass = play_bass(band);
                const std::vector<BandNote> chords = play_chords(band);
                const std::vector<DrumNote> drums = play_drums(band);
                for (const std::size_t bar : {2U, 3U, 6U}) {
                    const Position at = c.chords[bar].at;
                    INFO(to_word(style) << " in " << to_string(meter) << ", seed " << seed << " bar " << bar);
                    const auto root = std::ranges::find(bass, at, &BandNote::at);
                    REQUIRE(root != bass.end());
                    CHECK(root->key % 12 == bass_class(*c.chords[bar].symbol));
                    CHECK(root->length > kEighth);
                    const auto stroke = std::ranges::find(chords, at, &BandNote::at);
                    REQUIRE(stroke != chords.end());
                    CHECK(stroke->touch == Touch::Weight);
                    CHECK(std::ranges::none_of(chords, [&](const BandNote& note) {
                        return note.at != at && at - kEighth <= note.at && note.at <= at + kEighth;
                    }));
                    for (const Drum drum : {Drum::Kick, Drum::Snare}) {
                        const auto struck = [&](Position when) {
                            return std::ranges::count_if(drums, [&](const DrumNote& note) {
                                return note.at == when && note.drum == drum;
                            });
                        };
                        CHECK(struck(at) == 1);
                        CHECK(struck(at + kEighth) == 0);
                    }
                }
            }
        }
    }
}

TEST_CASE("an ending is struck by all, held, and nothing comes after it", "[band]") {
    const Changes c = tune();
    for (const BandStyle style : styles()) {
        RhythmSection band = band_on(c, style);
        band.ending = BandEnding{c.bars.back().at + kHalf, kWhole, *parse_chord_symbol("Cmaj7")};
        const BandNote last = play_bass(band).back();
        CHECK(last.at == band.ending->at);
        CHECK(last.length == kWhole);
        CHECK(last.key % 12 == 0);
        const std::vector<std::vector<BandNote>> hits = by_onset(play_chords(band));
        CHECK(hits.back().front().at == band.ending->at);
        CHECK(hits.back().front().length == kWhole);
        CHECK(play_drums(band).back().at == band.ending->at);
    }
}

TEST_CASE("a swing tune may end with a tag, which all strike together and whose last stroke is held",
          "[band]") {
    const Changes c = tune();
    std::set<std::size_t> counts;
    for (unsigned seed = 1; seed <= 16; ++seed) {
        RhythmSection band = band_on(c, BandStyle::Swing, seed);
        band.ending = BandEnding{c.bars.back().at, kWhole + kHalf, *parse_chord_symbol("C6")};
        const Position end = band.ending->at + band.ending->length;
        std::vector<Position> chords;
        for (const std::vector<BandNote>& hit : by_onset(play_chords(band))) {
            if (hit.front().at < band.ending->at) continue;
            chords.push_back(hit.front().at);
            const auto same = [&](const auto& note) { return note.at == hit.front().at; };
            CHECK(std::ranges::count_if(play_bass(band), same) == 1);
            CHECK(std::ranges::count_if(play_drums(band), same) == 2);
        }
        const std::vector<BandNote> bass = play_bass(band);
        CHECK(bass.back().at + bass.back().length == end);
        CHECK(bass.back().length >= kHalf);
        CHECK(bass.back().at == chords.back());
        CHECK(bass.back().key % 12 == 0);
        counts.insert(chords.size());
    }
    CHECK(counts.size() >= 2);
}

// Common practice, no source.
TEST_CASE("the drums fill into the ending, wherever it begins", "[band]") {
    const Changes c = tune();
    for (unsigned seed = 1; seed <= 8; ++seed) {
        RhythmSection band = band_on(c, BandStyle::Swing, seed);
        band.ending = BandEnding{c.bars[14].at, kWhole, *parse_chord_symbol("C6")};
        CHECK(std::ranges::any_of(play_drums(band), [&](const DrumNote& note) {
            return note.drum == Drum::Snare && note.touch != Touch::Soft &&
                   note.at >= c.bars[13].at + kHalf && note.at < c.bars[14].at;
        }));
    }
}

TEST_CASE("every chorus has a bass of its own, the same seed the same", "[band]") {
    const Changes c = tune(2);
    for (const BandStyle style : {BandStyle::Swing, BandStyle::Ballad, BandStyle::Latin, BandStyle::Pop}) {
        RhythmSection band = band_on(c, style);
        band.choruses = {{c.bars[0].at, 2, BassPulse::Four}, {c.bars[16].at, 2, BassPulse::Four}};
        const std::vector<BandNote> bass = play_bass(band);
        CHECK(bass == play_bass(band));
        std::vector<int> first;
        std::vector<int> second;
        for (const BandNote& note : bass) (note.at < c.bars[16].at ? first : second).push_back(note.key);
        CHECK(first != second);
    }
}

// Common practice, no source.
TEST_CASE("words of a tune name styles, whole words only", "[band]") {
    CHECK(style_named("medium bossa") == BandStyle::Latin);
    CHECK(style_named("Straight rock") == BandStyle::Pop);
    CHECK(style_named("straight eighths") == BandStyle::Straight);
    CHECK(style_named("even eighths, modal") == BandStyle::Straight);
    CHECK(style_named("latin, straight") == BandStyle::Latin);
    CHECK(!style_named("modal"));
    CHECK(style_named("straight-ahead swing") == BandStyle::Swing);
    CHECK(style_named("slow ballad") == BandStyle::Ballad);
    CHECK(style_named("shuffle") == BandStyle::Shuffle);
    CHECK(!style_named("fast, in seven"));
    CHECK(!style_named("rocking chair"));
    CHECK(eighths_of(BandStyle::Pop) == Eighths::Straight);
    CHECK(eighths_of(BandStyle::Shuffle) == Eighths::OnTriplets);
    CHECK(has_brushes(BandStyle::Ballad));
}

// Common practice, no source.
TEST_CASE("words of a tune put the bass in two", "[band]") {
    CHECK(pulse_named("two-beat, then in four") == PulseAsked::TwoThenFour);
    CHECK(pulse_named("Two-feel") == PulseAsked::Two);
    CHECK(pulse_named("swing, in two") == PulseAsked::Two);
    CHECK(pulse_named("two-beat") == PulseAsked::Two);
    CHECK(!pulse_named("fast swing"));
    CHECK(!pulse_named("two horns, in tune"));
}

}  // namespace shedbook
