// Where lines have breaths (common practice, no source): behind the end of a phrase, never inside a figure.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "breaths.h"
#include "chord_facts.h"
#include "grounds.h"

namespace shedbook {
namespace {

constexpr const char* kUnbroken[]{"guide-tones",    "arpeggios-up", "arpeggios-down", "arpeggio-waves",
                                  "unbroken-scale", "targets",      "added-note",     "cell"};

const char* const kLong =
    "Title: Long Breath\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n| Gm7 | C7 | Am7 | D7 |\n"
    "| Bbmaj7 | Bbm6 | Am7 | D7 |\n| Gm7 | C7 | F6 | F6 |\n";

ConcertLine line_of(const EtudeGround& ground, EtudeRequest request, bool breathes) {
    request.handling.breathes = breathes;
    return make_etude(ground, request, test_ranges()[0].range);
}

Position end_of(const LineNote& note) {
    return note.at + note.length;
}

// Where a note is that has a rest of an eighth or more behind it.
std::vector<std::size_t> before_rests(const ConcertLine& line) {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i + 1 < line.notes.size(); ++i) {
        if (line.notes[i + 1].at - end_of(line.notes[i]) >= kEighth) out.push_back(i);
    }
    return out;
}

bool is_told(const ConcertLine& line, const ScaleSpan& span) {
    return std::ranges::any_of(line.notes, [&](const LineNote& note) {
        return end_of(note) > span.at && note.at < span.at + span.length &&
               holds(facts_of(*span.symbol).tell, note.pitch.midi());
    });
}

Duration longest_stretch(const ConcertLine& line) {
    Duration out;
    Position since = line.notes.front().at;
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        out = std::max(out, end_of(line.notes[i]) - since);
        const bool is_marked = std::ranges::find(line.breaths, end_of(line.notes[i])) != line.breaths.end();
        if (i + 1 < line.notes.size() &&
            (is_marked || line.notes[i + 1].at - end_of(line.notes[i]) >= kEighth))
            since = line.notes[i + 1].at;
    }
    return out;
}

}  // namespace

TEST_CASE("unbroken lines breathe every few bars: quarters have a mark, other notes give way to a rest",
          "[etude][breaths]") {
    const EtudeGround tune = ground_of_bars(kLong);
    for (const char* kind : kUnbroken) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            INFO(kind << " " << level);
            const EtudeRequest request{.kind = kind, .level = level, .tempo = 120};
            const ConcertLine through = line_of(tune, request, false);
            const ConcertLine line = line_of(tune, request, true);
            CHECK(before_rests(through).empty());
            for (const Position at : line.breaths) {
                const auto marked = std::ranges::find_if(
                    line.notes, [&](const LineNote& note) { return end_of(note) == at; });
                REQUIRE(marked != line.notes.end());
                CHECK(marked->length >= kQuarter);
                CHECK(marked->length < kHalf);
            }
            CHECK(longest_stretch(line) <= kWhole * Rational{5});
            CHECK(before_rests(line).size() + line.breaths.size() >= 3);
            // The notes are those of the line without breaths.
            for (const LineNote& note : line.notes) {
                const auto same = std::ranges::lower_bound(through.notes, note.at, {}, &LineNote::at);
                REQUIRE(same != through.notes.end());
                CHECK(same->at == note.at);
                CHECK(same->pitch == note.pitch);
            }
            CHECK(end_of(line.notes.back()) == end_of(through.notes.back()));
            // The last chord is come to rest on, perhaps on its root.
            for (const ScaleSpan& span : tune.spans)
                CHECK((is_told(line, span) || span.symbol == tune.spans.back().symbol));
        }
    }
}

TEST_CASE("a slower tempo has more breaths", "[etude][breaths]") {
    const EtudeGround tune = ground_of_bars(kLong);
    EtudeRequest request{.kind = "unbroken-scale", .level = 3};
    request.tempo = 50;
    const std::size_t slow = before_rests(line_of(tune, request, true)).size();
    request.tempo = 200;
    const std::size_t fast = before_rests(line_of(tune, request, true)).size();
    CHECK(slow > fast);
    CHECK(fast > 0);
}

TEST_CASE("a breath is behind a long note where there are long ones, and never before a target",
          "[etude][breaths]") {
    const EtudeGround tune = ground_of_bars(kLong);
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            INFO("level " << level << ", seed " << seed);
            const EtudeRequest request{.kind = "targets", .level = level, .seed = seed, .tempo = 100};
            const ConcertLine through = line_of(tune, request, false);
            const ConcertLine line = line_of(tune, request, true);
            for (const std::size_t i : before_rests(line)) {
                const LineNote& note = line.notes[i];
                const auto whole = std::ranges::lower_bound(through.notes, note.at, {}, &LineNote::at);
                CHECK(whole->length >= kQuarter);
                CHECK(has_note(sounding_at(tune, note.at).chord, note.pitch));
            }
        }
    }
}

TEST_CASE("before a rest to breathe in stands an eighth, not a splinter of a beat", "[etude][breaths]") {
    const EtudeGround tune = ground_of_bars(kLong);
    for (const char* kind : {"unbroken-scale", "cell"}) {
        for (const int level : {5, 6}) {
            const ConcertLine line = line_of(tune, {.kind = kind, .level = level, .tempo = 90}, true);
            REQUIRE_FALSE(before_rests(line).empty());
            for (const std::size_t i : before_rests(line)) CHECK(line.notes[i].length == kEighth);
        }
    }
}

TEST_CASE("a passage that is played twice is breathed between its times, not before its goal",
          "[etude][breaths]") {
    // The goal begins a section of the tune.
    const EtudeGround passage = ground_of_bars(
        "Title: Over the Fence\nKey: C\n[A]\n| Cmaj7 | Am7 | D7 | Dm7 G7alt |\n[B]\n| Cmaj7 | F6 | G7 | C6 "
        "|\n",
        {.bars = std::pair{4, 5}, .choruses = 2});
    // And one in which nothing falls by a fifth.
    const EtudeGround plagal = ground_of_bars(
        "Title: Over the Wall\nKey: C\n[A]\n| Cmaj7 | Am7 | Em7 | Fm6 |\n[B]\n| Cmaj7 | F6 | G7 | C6 |\n",
        {.bars = std::pair{4, 5}, .choruses = 2});
    struct Case {
        const EtudeGround& ground;
        const char* kind;
        int tempo;
    };
    for (const auto& [ground, kind, tempo] :
         {Case{passage, "guide-tones", 100}, Case{passage, "unbroken-scale", 100},
          Case{plagal, "guide-tones", 150}}) {
        INFO(kind << " at " << tempo);
        EtudeRequest request{
            .kind = kind, .level = 1, .tempo = tempo, .choruses = 2, .bars = std::pair{4, 5}};
        const ConcertLine line = line_of(ground, request, true);
        const std::vector<std::size_t> rests = before_rests(line);
        REQUIRE(rests.size() == 1);
        CHECK(line.notes[rests.front() + 1].at == ground.bars[2].at);
    }
}

TEST_CASE("no slur goes over from one time through a passage to the next", "[etude][breaths]") {
    const GroundOptions twice{.bars = std::pair{1, 2}, .choruses = 2};
    const EtudeGround passage = ground_of_bars("Title: Twice\nKey: C\n| Dm7 | G7 | Cmaj7 | C6 |\n", twice);
    std::ptrdiff_t slurs = 0;
    for (const char* kind : {"unbroken-scale", "targets", "arpeggios-up"}) {
        for (std::uint64_t seed = 1; seed <= 5; ++seed) {
            EtudeRequest request{.kind = kind, .level = 3, .seed = seed, .choruses = 2, .bars = twice.bars};
            request.handling.slurs = true;
            const ConcertLine line = line_of(passage, request, false);
            slurs += std::ranges::count_if(line.notes, &LineNote::slur_starts);
            for (const LineNote& note : line.notes)
                CHECK_FALSE((note.at == passage.bars[2].at && note.slur_stops));
        }
    }
    CHECK(slurs > 20);
}

TEST_CASE("no breath parts an outside note from what it leads to", "[etude][breaths]") {
    const EtudeGround tune =
        ground_of_bars("Title: Two Halves\nKey: C\n| C6 | C6 | C6 | C6 |\n| C6 | C6 | C6 | C6 |\n");
    // In each bar a tone and then a note that leads across the bar line.
    const auto breaths_with = [&](const char* leading) {
        ConcertLine line;
        for (int bar = 0; bar < 8; ++bar) {
            const Position at = Position{} + kWhole * Rational{bar};
            line.notes.push_back({parse_pitch("E5").value(), at, kHalf});
            line.notes.push_back({parse_pitch(leading).value(), at + kHalf, kHalf});
        }
        add_breaths(line, tune, {.longest = kWhole * Rational{2}});
        return line.breaths;
    };
    const auto is_at_bar = [](Position at) { return ((at - Position{}) / kWhole).is_whole(); };
    REQUIRE_FALSE(breaths_with("D#5").empty());
    CHECK(std::ranges::none_of(breaths_with("D#5"), is_at_bar));
    CHECK(std::ranges::all_of(breaths_with("D5"), is_at_bar));
}

TEST_CASE("no breath mark is inside a beam", "[etude][breaths]") {
    const EtudeGround tune = ground_of_bars(kLong);
    std::size_t marks = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        for (const int level : {2, 3, 4, 5}) {
            const ConcertLine line =
                line_of(tune, {.kind = "composed", .level = level, .seed = seed, .tempo = 150}, true);
            marks += line.breaths.size();
            for (const Position at : line.breaths) {
                const auto next = std::ranges::lower_bound(line.notes, at, {}, &LineNote::at);
                if (next == line.notes.begin() || next == line.notes.end() || next->at != at) continue;
                const bool are_short = next->length < kQuarter && (next - 1)->length < kQuarter;
                CHECK((!are_short || ((at - Position{}) / kHalf).is_whole()));
            }
        }
    }
    CHECK(marks > 40);
}

TEST_CASE("no breath is inside a beat of three", "[etude][breaths]") {
    for_each_case(Coverage::Some, [](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        for (const char* kind : {"composed", "unbroken-scale"}) {
            EtudeRequest request{.kind = kind, .level = 5, .seed = seed, .tempo = 90};
            request.handling.breathes = true;
            const ConcertLine line = make_etude(ground, request, range);
            int wrong = 0;
            for (const Position at : line.breaths) {
                const auto bar = std::ranges::upper_bound(ground.bars, at, {}, &GroundBar::at) - 1;
                wrong += ((at - bar->at) / kEighth).is_whole() ? 0 : 1;
            }
            CHECK(wrong == 0);
        }
    });
}

}  // namespace shedbook
