// Riff, riff again, a line home: what a teacher of the blues asks of it (common practice, no source): the
// riff is heard again, it suits the chord that it is set on, it leaves room, and the last line brings it
// home. The blues form and its scale: R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.3
// and 31.9.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <functional>
#include <set>
#include <string>
#include <vector>

#include "chord_facts.h"
#include "grounds.h"
#include "riff.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {
namespace {

constexpr std::array<const char*, 12> kNames{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};

// Roots in half steps over the tonic, two chords a bar behind a comma.
struct Form {
    const char* name;
    bool is_minor;
    std::vector<std::vector<std::pair<int, const char*>>> bars;
};
const std::vector<Form>& forms() {
    static const std::vector<Form> kForms{
        {"quick change, diminished passing",
         false,
         {{{0, "7"}},
          {{5, "7"}},
          {{0, "7"}},
          {{7, "m7"}, {0, "7"}},
          {{5, "7"}},
          {{6, "dim7"}},
          {{0, "7"}},
          {{4, "m7b5"}, {9, "7b9"}},
          {{2, "m7"}},
          {{7, "7"}},
          {{0, "7"}, {9, "7alt"}},
          {{2, "m7"}, {7, "7"}}}},
        {"plain",
         false,
         {{{0, "7"}},
          {{0, "7"}},
          {{0, "7"}},
          {{0, "7"}},
          {{5, "7"}},
          {{5, "7"}},
          {{0, "7"}},
          {{0, "7"}},
          {{7, "7"}},
          {{5, "7"}},
          {{0, "7"}},
          {{7, "7"}}}},
        {"minor",
         true,
         {{{0, "m7"}},
          {{0, "m7"}},
          {{0, "m7"}},
          {{0, "m7"}},
          {{5, "m7"}},
          {{5, "m7"}},
          {{0, "m7"}},
          {{0, "m7"}},
          {{8, "7"}},
          {{7, "7b9"}},
          {{0, "m7"}},
          {{2, "m7b5"}, {7, "7b9"}}}},
    };
    return kForms;
}

std::string chart_of(const Form& form, std::size_t tonic) {
    std::string out = std::string{"Title: Blues\nKey: "} + kNames[tonic] + (form.is_minor ? " minor" : "") +
                      "\nMeter: 4/4\nTempo: 120\n|";
    for (const auto& bar : form.bars) {
        for (const auto& [up, kind] : bar)
            out += std::string{" "} + kNames[(tonic + static_cast<std::size_t>(up)) % 12] + kind;
        out += " |";
    }
    return out + "\n";
}

struct Case {
    const Form* form;
    EtudeGround ground;
    EtudeRequest request;
    ConcertLine line;
};

// Every form on every root, with a level, seed and instrument of its own.
void for_each_blues(const std::function<void(const Case&)>& check) {
    std::uint64_t turn = 0;
    for (const Form& form : forms()) {
        for (std::size_t tonic = 0; tonic < 12; ++tonic) {
            Case one{&form, ground_of_bars(chart_of(form, tonic)), {}, {}};
            for (int level = 1; level <= kHighestLevel; ++level) {
                const NamedRange& part = test_ranges()[++turn % test_ranges().size()];
                one.request = {.kind = "aab", .level = level, .seed = turn};
                one.line = make_etude(one.ground, one.request, part.range);
                INFO(form.name << " on " << kNames[tonic] << ", level " << level << ", " << part.instrument);
                check_line(one.ground, one.line, part.range);
                check(one);
            }
        }
    }
}

std::vector<LineNote> notes_in(const Case& one, std::size_t first_bar, std::size_t last_bar) {
    const Position from = one.ground.bars[first_bar - 1].at;
    const Position to = one.ground.bars[last_bar - 1].at + one.ground.bars[last_bar - 1].length;
    std::vector<LineNote> out;
    for (const LineNote& note : one.line.notes) {
        if (note.at >= from && note.at < to) out.push_back(note);
        if (note.at >= from && note.at < to) out.back().at = Position{} + (note.at - from);
    }
    return out;
}

int way(const LineNote& a, const LineNote& b) {
    const int by = b.pitch.midi() - a.pitch.midi();
    return by > 0 ? 1 : by < 0 ? -1 : 0;
}

}  // namespace

TEST_CASE("the second line of a blues has the rhythm and the ups and downs of the first", "[etude][aab]") {
    for_each_blues([](const Case& one) {
        const std::vector<LineNote> first = notes_in(one, 1, 4);
        const std::vector<LineNote> second = notes_in(one, 5, 8);
        REQUIRE(first.size() >= 6);
        REQUIRE(first.size() == second.size());
        int other_ways = 0;
        for (std::size_t i = 0; i < first.size(); ++i) {
            CHECK(first[i].at == second[i].at);
            CHECK(first[i].length == second[i].length);
            const bool goes_on = i > 0 && first[i - 1].at + first[i - 1].length == first[i].at;
            if (goes_on) other_ways += way(first[i - 1], first[i]) != way(second[i - 1], second[i]) ? 1 : 0;
        }
        // The answer over a chord of another key may end on its other side.
        CHECK(other_ways <= 1);
    });
}

TEST_CASE("over IV7 the third of I7 becomes its blue third", "[etude][aab]") {
    int thirds = 0;
    for_each_blues([&](const Case& one) {
        if (one.form->is_minor) return;
        const int tonic = one.ground.home.tonic.semitone();
        const auto third = [&](const LineNote& note) { return (note.pitch.midi() - tonic + 120) % 12; };
        for (const LineNote& note : notes_in(one, 1, 1)) thirds += third(note) == 4 ? 1 : 0;
        for (const LineNote& note : notes_in(one, 5, 5)) CHECK(third(note) != 4);
    });
    CHECK(thirds > 50);
}

TEST_CASE("on the halves of a bar of I7 a riff has mostly chord tones, at the end of the answer always",
          "[etude][aab]") {
    int strong = 0;
    int tones = 0;
    for_each_blues([&](const Case& one) {
        for (const std::size_t bar : {std::size_t{1}, std::size_t{3}, std::size_t{7}}) {
            for (const LineNote& note : notes_in(one, bar, bar)) {
                if (!((note.at - Position{}) / kHalf).is_whole()) continue;
                const ScaleSpan& span = sounding_at(one.ground, one.ground.bars[bar - 1].at);
                ++strong;
                tones += holds(facts_of(*span.symbol).all, note.pitch.midi()) ? 1 : 0;
            }
        }
        for (const std::size_t line : {std::size_t{1}, std::size_t{5}}) {
            const LineNote last = notes_in(one, line, line + 3).back();
            const Position at = one.ground.bars[line - 1].at + (last.at - Position{});
            CHECK(holds(facts_of(*sounding_at(one.ground, at).symbol).ends, last.pitch.midi()));
        }
    });
    CHECK(10 * tones >= 7 * strong);
}

TEST_CASE("the call leaves room for its answer, and the answer for the next line", "[etude][aab]") {
    for_each_blues([](const Case& one) {
        for (const std::size_t first : {1U, 3U, 5U, 7U}) {
            const std::vector<LineNote> notes = notes_in(one, first, first + 1);
            REQUIRE_FALSE(notes.empty());
            const Position silent_from = notes.back().at + notes.back().length;
            CHECK(silent_from <= Position{} + kWhole * Rational{2} - kQuarter);
        }
    });
}

TEST_CASE("the last line tells the chords of its first two bars and comes home in the third",
          "[etude][aab]") {
    int told = 0;
    int chords = 0;
    for_each_blues([&](const Case& one) {
        for (const std::size_t bar : {std::size_t{9}, std::size_t{10}}) {
            const ScaleSpan& span = sounding_at(one.ground, one.ground.bars[bar - 1].at);
            ++chords;
            told += std::ranges::any_of(notes_in(one, bar, bar),
                                        [&](const LineNote& note) {
                                            return holds(facts_of(*span.symbol).tell, note.pitch.midi());
                                        })
                        ? 1
                        : 0;
        }
        const std::vector<LineNote> home = notes_in(one, 11, 12);
        REQUIRE(home.size() == 1);
        CHECK(home.front().at == Position{});
        const ScaleSpan& tonic = sounding_at(one.ground, one.ground.bars[10].at);
        CHECK(holds(facts_of(*tonic.symbol).ends, home.front().pitch.midi()));
    });
    CHECK(told == chords);
}

TEST_CASE("another seed has another riff", "[etude][aab]") {
    const EtudeGround ground = ground_of_bars(chart_of(forms().front(), 5));
    for (int level = 1; level <= kHighestLevel; ++level) {
        std::set<std::vector<int>> lines;
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            std::vector<int> keys;
            const EtudeRequest request{.kind = "aab", .level = level, .seed = seed};
            for (const LineNote& note : make_etude(ground, request, test_ranges()[0].range).notes)
                keys.push_back(note.pitch.midi());
            lines.insert(keys);
        }
        INFO("level " << level);
        CHECK(lines.size() >= 2);
    }
}

TEST_CASE("every riff is named, of two times two bars, and ends with room behind it", "[etude][aab]") {
    std::set<std::string> ids;
    std::array<std::array<int, 2>, kHighestLevel> of_level{};
    for (const Riff& riff : riffs()) {
        INFO(riff.id);
        CHECK(ids.insert(riff.id).second);
        CHECK_FALSE(riff.about.empty());
        for (const PhraseFigure* half : {&riff.call, &riff.answer}) {
            CHECK(half->length == kRiffHalf);
            CHECK(half->entry == PhraseFigure::Entry::Nearest);
            CHECK(half->notes.back().kind == PhraseNote::Kind::Rest);
            CHECK(half->notes.back().length >= kQuarter);
        }
        auto& level = of_level[static_cast<std::size_t>(riff.level) - 1];
        if (riff.mode != RiffMode::Minor) ++level[0];
        if (riff.mode != RiffMode::Major) ++level[1];
    }
    for (const auto& [major, minor] : of_level) {
        CHECK(major >= 2);
        CHECK(minor >= 2);
    }
}

TEST_CASE("what is wrong with a riff is said at its place", "[etude][aab]") {
    Diagnostics said;
    const std::string text =
        "[[riff]]\nid = \"mine\"\nabout = \"ours\"\nlevel = 1\ncall = \"1/4 1 3 5 x 1/1 r\"\nanswer = \"1/4 "
        "1 r\"\n";
    CHECK(read_riffs(SourceText{"mine.toml", text}, said).empty());
    std::string all;
    for (const Diagnostic& each : said.all()) all += each.message + "\n";
    CHECK(all.find("'x' is no note of a figure") != std::string::npos);
    CHECK(all.find("this is not two bars of 4/4 long") != std::string::npos);
}

TEST_CASE("forms of eight, sixteen and twenty-four bars end with a line home", "[etude][aab]") {
    for (const int bars : {8, 16, 24}) {
        std::string text = "Title: Other\nKey: G\n|";
        for (int bar = 1; bar <= bars; ++bar) {
            const int of_four = (bar - 1) % 4;
            text += bar == bars - 3 ? " D7 |" : bar == bars - 2 ? " C7 |" : of_four == 1 ? " C7 |" : " G7 |";
        }
        INFO(text);
        const EtudeGround ground = ground_of_bars(text + "\n");
        const EtudeRequest request{.kind = "aab", .level = 2, .explain = true};
        const ConcertLine line = make_etude(ground, request, test_ranges()[0].range);
        REQUIRE_FALSE(line.texts.empty());
        CHECK(line.texts.front().text == "riff");
        CHECK(line.texts.back().text == "home");
        CHECK(line.notes.back().pitch.name() == ground.home.tonic);
    }
}

}  // namespace shedbook
