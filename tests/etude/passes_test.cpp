// Some bars of a tune, played twice: each time through is a line of its own.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

#include "chord_facts.h"
#include "grounds.h"

namespace shedbook {
namespace {

constexpr const char* kTune =
    "Title: Wet Rope\nKey: C\nTempo: 120\n| Dm7 G7 | Cmaj7 | Bm7b5 E7b9 | Am7 |\n"
    "| Fm7 Bb7 | Cmaj7 | Dm7 G7 | C6 |\n";

struct Passage {
    EtudeGround ground;
    EtudeRequest request;
};

Passage passage_of(const std::string& kind, std::pair<int, int> bars, int level, std::uint64_t seed = 1) {
    const EtudeRequest request{
        .kind = kind, .level = level, .seed = seed, .tempo = 120, .choruses = 2, .bars = bars, .once = true};
    return {ground_of_bars(kTune, {.bars = bars, .choruses = 2, .once = true}), request};
}

ConcertLine line_of(const Passage& passage) {
    return make_etude(passage.ground, passage.request, test_ranges()[4].range);
}

// Its notes, the second time through apart from the first.
std::vector<std::vector<LineNote>> ways_of(const Passage& passage, const ConcertLine& line) {
    const Position second = passage.ground.bars[passage.ground.bars.size() / 2].at;
    std::vector<std::vector<LineNote>> out(2);
    for (const LineNote& note : line.notes) out[note.at < second ? 0 : 1].push_back(note);
    return out;
}

ChordFacts facts_at(const EtudeGround& ground, Position at) {
    return facts_of(*sounding_at(ground, at).symbol);
}

}  // namespace

TEST_CASE("each time through some bars a line comes to rest on the last chord", "[etude][passes]") {
    for (const char* kind : {"arpeggios-up", "arpeggios-down", "unbroken-scale", "targets", "cell"}) {
        for (const auto& bars : {std::pair{1, 2}, std::pair{3, 4}, std::pair{5, 6}}) {
            for (std::uint64_t seed = 1; seed <= 8; ++seed) {
                INFO(kind << " from bar " << bars.first << ", seed " << seed);
                const Passage passage = passage_of(kind, bars, 4, seed);
                for (const std::vector<LineNote>& way : ways_of(passage, line_of(passage))) {
                    REQUIRE_FALSE(way.empty());
                    const LineNote& last = way.back();
                    CHECK(holds(facts_at(passage.ground, last.at).ends, last.pitch.midi()));
                    CHECK(last.length >= kQuarter);
                }
            }
        }
    }
}

TEST_CASE("the second time through some bars goes another way", "[etude][passes]") {
    for (const char* kind : {"arpeggios-up", "unbroken-scale"}) {
        const Passage passage = passage_of(kind, {1, 2}, 4);
        const auto ways = ways_of(passage, line_of(passage));
        std::size_t same = 0;
        for (std::size_t i = 0; i < std::min(ways[0].size(), ways[1].size()); ++i)
            same += ways[0][i].pitch == ways[1][i].pitch ? 1 : 0;
        INFO(kind);
        CHECK(2 * same <= ways[0].size());
    }
}

// Root position first: common practice, no source. A dominant with a flat ninth is 3 5 7 b9.
TEST_CASE("arpeggios on some bars begin on the root, or on the third where a ninth has its room",
          "[etude][passes]") {
    for (const auto& bars : {std::pair{1, 2}, std::pair{3, 4}, std::pair{5, 6}}) {
        for (std::uint64_t seed = 1; seed <= 8; ++seed) {
            INFO("from bar " << bars.first << ", seed " << seed);
            const Passage passage = passage_of("arpeggios-up", bars, 4, seed);
            const std::vector<LineNote> first = ways_of(passage, line_of(passage))[0];
            const ScaleSpan* before = nullptr;
            for (std::size_t i = 0; i < first.size(); ++i) {
                const ScaleSpan& span = sounding_at(passage.ground, first[i].at);
                if (&span == before) continue;
                before = &span;
                const bool has_ninth = span.symbol == parse_chord_symbol("E7b9");
                const int above = modulo(first[i].pitch.midi() - span.symbol->root.semitone(), 12);
                CHECK(above == (has_ninth ? 4 : 0));
                if (!has_ninth) continue;
                // G#, B, D, F: none left out between.
                REQUIRE(i + 3 < first.size());
                CHECK(first[i].pitch.midi() % 12 == 8);
                CHECK(first[i + 1].pitch.midi() % 12 == 11);
                CHECK(first[i + 2].pitch.midi() % 12 == 2);
                CHECK(first[i + 3].pitch.midi() % 12 == 5);
            }
        }
    }
}

TEST_CASE("a target on some bars is marked, and is a third or a seventh where its chord begins",
          "[etude][passes]") {
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const Passage passage = passage_of("targets", {1, 2}, 4, seed);
        int marked = 0;
        int telling = 0;
        for (const LineNote& note : line_of(passage).notes) {
            if (note.articulation != Articulation::Accent) continue;
            ++marked;
            const ChordFacts facts = facts_at(passage.ground, note.at);
            const bool is_last = sounding_at(passage.ground, note.at).symbol == parse_chord_symbol("Cmaj7");
            telling += holds(is_last ? facts.guide | facts.ends : facts.guide, note.pitch.midi()) ? 1 : 0;
        }
        INFO("seed " << seed);
        CHECK(marked == 6);
        CHECK(telling == marked);
    }
}

TEST_CASE("a bare voice through some bars goes by step, also out of a backdoor", "[etude][passes]") {
    const Passage passage = passage_of("guide-tones", {5, 6}, 1);
    for (const std::vector<LineNote>& way : ways_of(passage, line_of(passage))) {
        for (std::size_t i = 1; i < way.size(); ++i)
            CHECK(std::abs(way[i].pitch.midi() - way[i - 1].pitch.midi()) <= 2);
    }
}

// R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.7: guide tones are thirds and sevenths.
TEST_CASE("a guide-tone line has thirds and sevenths alone until it comes to rest, and moves",
          "[etude][passes]") {
    const GroundOptions twice{.bars = std::pair{1, 3}, .choruses = 2, .once = true};
    for (const char* changes :
         {"| F7 D7 | Gm7 C7 | F6 |", "| Am7 | D7sus4 D7 | Gmaj7 |", "| Fmaj7 Fm6 | Em7 Am7 | Dm7 G7 |"}) {
        const EtudeGround ground =
            ground_of_bars("Title: Wet Rope\nKey: C\nTempo: 120\n" + std::string{changes} + "\n", twice);
        const EtudeRequest request{
            .kind = "guide-tones", .level = 1, .tempo = 120, .choruses = 2, .bars = twice.bars, .once = true};
        for (const NamedRange& range : test_ranges()) {
            INFO(changes << " on " << range.instrument);
            const Passage passage{ground, request};
            for (const std::vector<LineNote>& way :
                 ways_of(passage, make_etude(ground, request, range.range))) {
                std::set<int> pitches;
                for (std::size_t i = 0; i < way.size(); ++i) {
                    const ChordFacts facts = facts_at(ground, way[i].at);
                    pitches.insert(way[i].pitch.midi());
                    CHECK((i + 1 == way.size() || holds(facts.guide | facts.tell, way[i].pitch.midi())));
                }
                CHECK(pitches.size() > 1);
            }
        }
    }
}

TEST_CASE("a scale line says the third of a minor iv behind IV", "[etude][passes]") {
    const GroundOptions once{.bars = std::pair{1, 3}, .once = true};
    const EtudeGround ground =
        ground_of_bars("Title: Wet Rope\nKey: C\nTempo: 120\n| Fmaj7 Fm6 | Em7 A7 | Dm7 G7 | C6 |\n", once);
    for (const NamedRange& range : test_ranges()) {
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            INFO(range.instrument << ", seed " << seed);
            const EtudeRequest request{.kind = "unbroken-scale",
                                       .level = 4,
                                       .seed = seed,
                                       .tempo = 120,
                                       .bars = once.bars,
                                       .once = true};
            bool has_third = false;
            for (const LineNote& note : make_etude(ground, request, range.range).notes) {
                const bool is_on_iv = sounding_at(ground, note.at).symbol == parse_chord_symbol("Fm6");
                has_third = has_third || (is_on_iv && note.pitch.midi() % 12 == 8);
            }
            CHECK(has_third);
        }
    }
}

TEST_CASE("a scale line on some bars turns within an octave and a half", "[etude][passes]") {
    constexpr int kOctaveAndAHalf = 19;
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        const Passage passage = passage_of("unbroken-scale", {1, 4}, 4, seed);
        for (const std::vector<LineNote>& way : ways_of(passage, line_of(passage))) {
            const auto [low, high] =
                std::ranges::minmax(way, {}, [](const LineNote& n) { return n.pitch.midi(); });
            CHECK(high.pitch.midi() - low.pitch.midi() <= kOctaveAndAHalf);
        }
    }
}

TEST_CASE("a composed line on some bars says the third of a dominant on a beat", "[etude][passes]") {
    int dominants = 0;
    int told = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        for (const int level : {2, 4, 6}) {
            Passage passage = passage_of("composed", {1, 2}, level, seed);
            passage.request.choruses = 1;
            passage.ground = ground_of_bars(kTune, {.bars = std::pair{1, 2}, .once = true});
            ++dominants;
            const ConcertLine line = line_of(passage);
            told += std::ranges::any_of(line.notes,
                                        [&](const LineNote& note) {
                                            return sounding_at(passage.ground, note.at).symbol ==
                                                       parse_chord_symbol("G7") &&
                                                   note.pitch.midi() % 12 == 11;
                                        })
                        ? 1
                        : 0;
        }
    }
    CHECK(10 * told >= 8 * dominants);
}

}  // namespace shedbook
