#include "shedbook/etude/etude.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "grounds.h"

namespace shedbook {
namespace {

const char* const kBars =
    "Title: Tin Roof\nKey: F\n| Gm7 | C7 | Fmaj7 | D7b9 |\n| Gm7 C7 | Am7b5 D7 | Gm7 C7 | F6 |\n";

bool same(const ConcertLine& a, const ConcertLine& b) {
    return a.notes == b.notes && a.texts == b.texts && a.open == b.open && a.breaths == b.breaths;
}

}  // namespace

TEST_CASE("every kind has a name, a sentence and six levels that say something", "[etude]") {
    std::set<std::string> ids;
    for (const EtudeKind& kind : etude_kinds()) {
        INFO(kind.id);
        CHECK(ids.insert(kind.id).second);
        CHECK_FALSE(kind.title.empty());
        CHECK(kind.about.back() == '.');
        CHECK(kind.levels.size() == kHighestLevel);
        for (const std::string& level : kind.levels) CHECK_FALSE(level.empty());
        CHECK(find_etude_kind(kind.id) == &kind);
    }
    CHECK(ids.size() == 11);
    CHECK(find_etude_kind("Guide Tones") != nullptr);
    CHECK(find_etude_kind("waltz") == nullptr);
}

TEST_CASE("lines of every kind stay in the range, in order and where chords are, at every level", "[etude]") {
    const EtudeGround tune = ground_of_bars(kBars);
    for (const EtudeKind& kind : etude_kinds()) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            for (const NamedRange& part : test_ranges()) {
                INFO(kind.id << " " << level << " " << part.instrument);
                EtudeRequest request{.kind = kind.id, .level = level, .explain = true};
                const ConcertLine line = make_etude(tune, request, part.range);
                CHECK(line.notes.size() >= 8);
                check_line(tune, line, part.range);
                CHECK_FALSE((line.texts.empty() && kind.id != "unbroken-scale" && kind.id != "arpeggios-up" &&
                             kind.id != "arpeggios-down" && kind.id != "arpeggio-waves" &&
                             kind.id != "added-note"));
                request.explain = false;
                const ConcertLine plain = make_etude(tune, request, part.range);
                CHECK(plain.texts.empty());
                CHECK(plain.notes == line.notes);
            }
        }
    }
}

TEST_CASE("the simple kinds hold to the rules of all lines over every chart", "[etude]") {
    for (const EtudeKind& kind : etude_kinds()) {
        if (kind.id == "composed" || kind.id == "call-and-answer") continue;
        INFO(kind.id);
        for_each_case(Coverage::InTurn, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
            const EtudeRequest request{
                .kind = kind.id, .level = 1 + static_cast<int>(seed * 2 % 6), .seed = seed};
            check_line(ground, make_etude(ground, request, range), range);
        });
    }
}

TEST_CASE("one seed gives one etude", "[etude]") {
    const EtudeGround tune = ground_of_bars(kBars, {.choruses = 3});
    for (const EtudeKind& kind : etude_kinds()) {
        INFO(kind.id);
        const EtudeRequest request{.kind = kind.id, .seed = 12};
        const PitchRange range = test_ranges()[0].range;
        CHECK(same(make_etude(tune, request, range), make_etude(tune, request, range)));
    }
    for (const char* kind : {"composed", "call-and-answer", "targets"}) {
        EtudeRequest request{.kind = kind, .seed = 12};
        const ConcertLine first = make_etude(tune, request, test_ranges()[0].range);
        request.seed = 13;
        CHECK_FALSE(same(first, make_etude(tune, request, test_ranges()[0].range)));
    }
}

TEST_CASE("a higher level is never easier: no fewer notes a bar, no narrower, no smaller leaps", "[etude]") {
    // Sums over seeds; the wish is that of school grades (level ladder, common practice).
    const EtudeGround tune = ground_of_bars(kBars, {.choruses = 2});
    for (const EtudeKind& kind : etude_kinds()) {
        std::vector<double> notes(kHighestLevel);
        std::vector<double> widths(kHighestLevel);
        for (std::uint64_t seed = 1; seed <= 8; ++seed) {
            for (int level = 1; level <= kHighestLevel; ++level) {
                const EtudeRequest request{.kind = kind.id, .level = level, .seed = seed};
                const ConcertLine line = make_etude(tune, request, test_ranges()[5].range);
                INFO(kind.id << " level " << level);
                REQUIRE_FALSE(line.notes.empty());
                const auto [low, high] = std::ranges::minmax_element(line.notes, {}, &LineNote::pitch);
                notes[static_cast<std::size_t>(level - 1)] += static_cast<double>(line.notes.size());
                widths[static_cast<std::size_t>(level - 1)] += high->pitch.midi() - low->pitch.midi();
            }
        }
        for (std::size_t level = 1; level < kHighestLevel; ++level) {
            INFO(kind.id << " level " << level + 1);
            // A part of a note a bar, or a semitone a line, is chance.
            CHECK(notes[level] >= 0.97 * notes[level - 1]);
            CHECK(widths[level] >= widths[level - 1] - 8);
        }
    }
}

TEST_CASE("choruses come one after the other", "[etude]") {
    const std::string text = "Title: Upbeat\nMeter: 4/4\n| Am7 | D7 | G6 | G6 |\n";
    const EtudeGround once = ground_of_bars(text);
    const EtudeGround thrice = ground_of_bars(text, {.choruses = 3});
    CHECK(thrice.bars.size() == 3 * once.bars.size());
    CHECK(thrice.length == once.length * Rational{3});
    CHECK(thrice.spans.size() == 3 * once.spans.size());
    CHECK(thrice.symbols.size() == 3 * once.symbols.size());
    CHECK(once.spans[0].notes.size() == 7);
}

TEST_CASE("an etude of some bars is as long as they are, as often as they are played", "[etude]") {
    const EtudeGround looped = ground_of_bars(kBars, {.bars = std::pair{3, 4}, .choruses = 4});
    CHECK(looped.bars.size() == 8);
    CHECK(to_string(*looped.symbols.front().symbol) == "Fmaj7");
    CHECK_FALSE(has_chords(ground_of_bars(kBars, {.bars = std::pair{30, 40}})));
}

TEST_CASE("other meters have lines of every kind that fill their bars", "[etude]") {
    for (const char* meter : {"3/4", "5/4", "6/8", "12/8", "7/8", "2/2", "2/4"}) {
        const EtudeGround tune = ground_of_bars(std::string{"Title: Odd\nKey: G\nMeter: "} + meter +
                                                "\n| G6 | Em7 | Am7 | D7 |\n| Bm7 | E7 | Am7 D7 | G6 |\n");
        for (const EtudeKind& kind : etude_kinds()) {
            for (int level = 1; level <= kHighestLevel; ++level) {
                INFO(meter << " " << kind.id << " " << level);
                const ConcertLine line =
                    make_etude(tune, {.kind = kind.id, .level = level, .seed = 5}, test_ranges()[1].range);
                check_line(tune, line, test_ranges()[1].range);
                CHECK(line.notes.size() >= 4);
            }
        }
    }
}

TEST_CASE("what is wrong with a cell is said", "[etude]") {
    CHECK(fault_of_cell("1 2 3 5").empty());
    CHECK(fault_of_cell("5 3 2 1'").empty());
    CHECK(fault_of_cell("").find("needs a degree") != std::string::npos);
    CHECK(fault_of_cell("1 b3").find("write 3, not b3") != std::string::npos);
    CHECK(fault_of_cell("1 x").find("is no note of a cell") != std::string::npos);
    CHECK(fault_of_cell("99").find("is no note of a cell") != std::string::npos);
    CHECK(fault_of_cell("1 run:5").find("degrees alone") != std::string::npos);
    CHECK(fault_of_cell("1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1").find("16 notes") != std::string::npos);
}

}  // namespace shedbook
