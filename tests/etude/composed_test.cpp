// Composed etudes: what must hold for every one of them, and that none of them is a solo that was played.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <memory>
#include <set>

#include "character.h"
#include "grounds.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// What the etude counts in a bar: quarters, dotted quarters in compound meters, eighths in uneven ones.
Duration beat_at(const EtudeGround& ground, Position at) {
    const GroundBar& bar = *(std::ranges::upper_bound(ground.bars, at, {}, &GroundBar::at) - 1);
    const Duration beat = bar.meter.unit == 2 ? kQuarter : bar.meter.beat_length();
    return (bar.length / beat).is_whole() ? beat : bar.meter.unit_length();
}

// The phrase goes on from a to b.
bool joined(const EtudeGround& ground, const LineNote& a, const LineNote& b) {
    return b.at - (a.at + a.length) < std::min(beat_at(ground, a.at), beat_at(ground, b.at));
}

// The chord that a note is heard with: the next one where it is struck an eighth or less before the change
// and held over it.
const ScaleSpan& heard_with(const EtudeGround& ground, const LineNote& note) {
    const ScaleSpan& span = sounding_at(ground, note.at);
    const Position change = span.at + span.length;
    if (change < Position{} + ground.length && note.at + note.length > change &&
        change - note.at <= beat_at(ground, note.at) * Rational{1, 2} &&
        !sounding_at(ground, change).notes.empty())
        return sounding_at(ground, change);
    return span;
}

bool is_inside(const EtudeGround& ground, const LineNote& note) {
    const ScaleSpan& span = heard_with(ground, note);
    return has_note(span.notes, note.pitch) || has_note(span.chord, note.pitch);
}

// Notes outside the scale that are held, or that no scale note takes up by step within the phrase, three
// notes on at most.
int stranded(const EtudeGround& ground, const ConcertLine& line) {
    int out = 0;
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        if (is_inside(ground, line.notes[i])) continue;
        bool resolves = false;
        for (std::size_t j = i + 1; j <= i + 3 && j < line.notes.size(); ++j) {
            if (!joined(ground, line.notes[j - 1], line.notes[j])) break;
            const int by = std::abs(line.notes[j].pitch.midi() - line.notes[i].pitch.midi());
            resolves = resolves || (by >= 1 && by <= 2 && is_inside(ground, line.notes[j]));
        }
        out += resolves && line.notes[i].length <= beat_at(ground, line.notes[i].at) ? 0 : 1;
    }
    return out;
}

// The phrases in which the top note is struck.
int phrases_at_the_top(const EtudeGround& ground, const ConcertLine& line) {
    const int top = std::ranges::max_element(line.notes, {}, &LineNote::pitch)->pitch.midi();
    int out = 0;
    bool counted = false;
    for (std::size_t i = 0; i < line.notes.size(); ++i) {
        if (i > 0 && !joined(ground, line.notes[i - 1], line.notes[i])) counted = false;
        if (line.notes[i].pitch.midi() != top || counted) continue;
        counted = true;
        ++out;
    }
    return out;
}

// The longest stretch, in quarters, without a rest of half a beat or a mark to breathe.
Rational longest_breath(const EtudeGround& ground, const ConcertLine& line) {
    Rational out;
    Position since;
    Position end;
    for (const LineNote& note : line.notes) {
        const bool marked = std::ranges::find(line.breaths, end) != line.breaths.end();
        if (marked || note.at - end >= beat_at(ground, note.at) * Rational{1, 2}) since = note.at;
        end = note.at + note.length;
        out = std::max(out, (end - since) / kQuarter);
    }
    return out;
}

}  // namespace

TEST_CASE("in composed etudes no note is stranded outside the scale, and no leap is wider than an octave",
          "[etude][composed]") {
    int etudes = 0;
    int one_top = 0;
    for (const char* kind : {"composed", "call-and-answer"}) {
        for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
            EtudeRequest request{.kind = kind, .level = 3 + static_cast<int>(seed), .seed = seed};
            request.handling.breathes = true;
            const ConcertLine line = make_etude(ground, request, range);
            check_line(ground, line, range);
            CHECK(stranded(ground, line) == 0);
            int wide = 0;
            for (std::size_t i = 1; i < line.notes.size(); ++i) {
                const int by = std::abs(line.notes[i].pitch.midi() - line.notes[i - 1].pitch.midi());
                wide += joined(ground, line.notes[i - 1], line.notes[i]) && by > 12 ? 1 : 0;
            }
            CHECK(wide == 0);
            REQUIRE_FALSE(line.notes.empty());
            // It comes to rest on a tone of its chord.
            CHECK(has_note(heard_with(ground, line.notes.back()).chord, line.notes.back().pitch));
            CHECK(longest_breath(ground, line) <= Rational{30});
            ++etudes;
            one_top += phrases_at_the_top(ground, line) == 1 ? 1 : 0;
        });
    }
    // One high point: the search pays for a second one, and seldom has to.
    CHECK(100 * one_top >= 80 * etudes);
}

TEST_CASE("a composed etude does not say one bar four times", "[etude][composed]") {
    for_each_case(Coverage::Some, [](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line = make_etude(ground, {.kind = "composed", .seed = 40 + seed}, range);
        std::vector<std::vector<std::pair<Rational, int>>> bars;
        for (const GroundBar& bar : ground.bars) {
            auto& notes = bars.emplace_back();
            for (const LineNote& note : line.notes) {
                if (note.at >= bar.at && note.at < bar.at + bar.length)
                    notes.emplace_back((note.at - bar.at).whole_notes, note.pitch.midi());
            }
        }
        std::ranges::sort(bars);
        int most = 0;
        for (std::size_t b = 0; b < bars.size();) {
            const auto same = std::ranges::equal_range(bars, bars[b]);
            if (bars[b].size() >= 3) most = std::max(most, static_cast<int>(same.size()));
            b += same.size();
        }
        CHECK(most < 4);
    });
}

TEST_CASE("the words of a composed etude stand at its notes and not on top of each other",
          "[etude][composed]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Orchard\nKey: G\n| Am7 | D7 | Gmaj7 | E7b9 |\n| Am7 D7 | Bm7 E7 | Am7 D7 | G6 |\n",
        {.choruses = 4});
    std::set<std::string> words;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        const ConcertLine line =
            make_etude(tune, {.kind = "composed", .seed = seed, .explain = true}, test_ranges()[0].range);
        Position last;
        for (const LineText& text : line.texts) {
            CHECK(std::ranges::find(line.notes, text.at, &LineNote::at) != line.notes.end());
            CHECK((&text == line.texts.data() || text.at - last >= kHalf));
            last = text.at;
            words.insert(text.text.substr(0, text.text.find(':')));
        }
    }
    for (const char* word : {"motif", "motif again", "target", "enclosure", "approach", "high point"})
        CHECK(words.contains(word));
}

TEST_CASE("choruses of a composed etude grow", "[etude][composed]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Ladder\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n| Gm7 | C7 | F6 | F6 |\n", {.choruses = 8});
    int first = 0;
    int last = 0;
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        const EtudeRequest request{.kind = "composed", .seed = seed, .choruses = 8};
        const ConcertLine line = make_etude(tune, request, test_ranges()[1].range);
        for (const LineNote& note : line.notes) {
            first += note.at < tune.bars[32].at ? 1 : 0;
            last += note.at >= tune.bars[32].at ? 1 : 0;
        }
    }
    CHECK(last > first);
}

TEST_CASE("sparse and busy etudes have fewer and more notes", "[etude][composed]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Gate\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n| Gm7 | C7 | F6 | F6 |\n", {.choruses = 2});
    std::array<std::size_t, 3> notes{};
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        for (const Density density : {Density::Sparse, Density::Usual, Density::Busy}) {
            const EtudeRequest request{.kind = "composed", .seed = seed, .density = density};
            notes[static_cast<std::size_t>(density)] +=
                make_etude(tune, request, test_ranges()[1].range).notes.size();
        }
    }
    CHECK(notes[0] < notes[1]);
    CHECK(notes[1] < notes[2]);
}

TEST_CASE("a ballad in triplets divides its beats in three", "[etude][composed]") {
    const EtudeGround tune =
        ground_of_bars("Title: Slow\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n", {.choruses = 4});
    const EtudeRequest request{.kind = "composed", .seed = 4, .feel = EtudeFeel::Triplets};
    int thirds = 0;
    for (const LineNote& note : make_etude(tune, request, test_ranges()[1].range).notes) {
        const Rational beats = note.at.whole_notes * Rational{4};
        const bool on_grid = (beats * Rational{3}).is_whole();
        CHECK(on_grid);
        thirds += beats.is_whole() ? 0 : 1;
    }
    CHECK(thirds > 5);
}

TEST_CASE("bars of very many beats, and one chord for very long, have an etude too", "[etude][composed]") {
    std::string bars;
    for (int i = 0; i < 40; ++i) bars += "| Dm7 ";
    for (const char* meter : {"24/4", "4/4"}) {
        const EtudeGround tune =
            ground_of_bars(std::string{"Title: Plain\nKey: D dorian\nMeter: "} + meter + "\n" + bars + "|\n");
        const ConcertLine line = make_etude(tune, {.kind = "composed", .level = 6, .density = Density::Busy},
                                            test_ranges()[0].range);
        check_line(tune, line, test_ranges()[0].range);
        CHECK(line.notes.size() > 100);
    }
}

TEST_CASE("figures are those that a pencil finds", "[etude][composed]") {
    // Four bars of C: C E G E | - | D C B C (eighths) | C. Worked out by hand.
    const EtudeGround tune = ground_of_bars("Title: Pencil\nKey: C\n| C | F | G7 | C |\n");
    const BeatGround ground = beat_ground(tune, 0, 4, false);
    std::vector<TickNote> notes{{0, 60, 60},    {60, 120, 64},  {120, 180, 67},
                                {180, 240, 64}, {480, 510, 62}, {510, 540, 60},
                                {540, 570, 59}, {570, 600, 60}, {720, 960, 60}};
    Figures figures;
    RhythmMeter{ground}.measure(notes, figures);
    CHECK(figures[Figure::Density] == Approx(9.0 / 4));
    CHECK(figures[Figure::PhraseNotes] == Approx(3));
    CHECK(figures[Figure::PhraseMax] == 4);
    CHECK(figures[Figure::Rests] == Approx((240.0 + 120) / 960));
    CHECK(figures[Figure::StartOne] == Approx(1));
    CHECK(figures[Figure::EndOff] == Approx(1.0 / 3));
    CHECK(figures[Figure::OffBeat] == Approx(2.0 / 9));
    CHECK(figures[Figure::Syncopation] == Approx(0));
    CHECK(figures[Figure::Eighths] == Approx(3.0 / 8));
    PitchMeter meter{ground, notes, window_for(12).intervals};
    using enum PitchMeter::Aspect;
    for (const PitchMeter::Aspect aspect : {Moves, Tones, Register, Outside, Again})
        meter.measure(aspect, {60, 64, 67, 64, 62, 60, 59, 60, 60}, figures);
    CHECK(figures[Figure::MaxLeap] == 4);
    CHECK(figures[Figure::Thirds] == Approx(3.0 / 6));
    CHECK(figures[Figure::Steps] == Approx(3.0 / 6));
    CHECK(figures[Figure::Up] == Approx(3.0 / 6));
    CHECK(figures[Figure::Range] == 8);
    CHECK(figures[Figure::TopHits] == 1);
    CHECK(figures[Figure::Climax] == Approx(120.0 / 960));
    CHECK(figures[Figure::Outside] == Approx(0));
}

TEST_CASE("characters are spread as players are", "[etude][composed]") {
    Dice dice{7};
    const auto drawn = draw_characters(1, dice, 1.0, 4000);
    double sum = 0;
    double squares = 0;
    for (const Character& character : drawn) {
        const double z = character.deviates[static_cast<std::size_t>(Figure::Density)];
        sum += z;
        squares += z * z;
    }
    CHECK(sum / 4000 == Approx(0).margin(0.15));
    CHECK(squares / 4000 == Approx(1.1).margin(0.25));
    // Sixteen seeds in a row: the field, evenly.
    double row = 0;
    for (std::uint64_t seed = 32; seed < 48; ++seed)
        row += draw_characters(seed, dice, 1.0, 1)[0].deviates[static_cast<std::size_t>(Figure::Density)];
    CHECK(row / 16 == Approx(0).margin(0.2));
    // The middle of all is the middle of the table.
    const FigureWindow& window = window_for(32);
    CHECK(aims_of(Character{}, window)[Figure::Density] == Approx(window.spread[37][6]));
    CHECK(window_for(13).bars == 12);
    CHECK(window_for(200).bars == 32);
}

#if !defined(__SANITIZE_ADDRESS__)
TEST_CASE("a chorus takes no time that a player would notice, four take about four times as long",
          "[etude][composed]") {
    const std::string text = "Title: Clock\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n| Gm7 | C7 | F6 | F6 |\n";
    const auto seconds = [&](int choruses) {
        const EtudeGround tune = ground_of_bars(text, {.choruses = choruses});
        const std::clock_t begin = std::clock();
        for (std::uint64_t seed = 1; seed <= 10; ++seed)
            CHECK_FALSE(
                make_etude(tune, {.kind = "composed", .seed = seed}, test_ranges()[0].range).notes.empty());
        return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC / 10;
    };
    seconds(1);  // reads the tables
    const double one = seconds(4);
    const double four = seconds(16);
    CHECK(one < 0.25);  // 0.05 on a machine of 2020; five times that on the slowest
    CHECK(four < 8 * one);
}
#endif

namespace {

// Twelve notes as one number: pitch classes, and lengths in half beats.
class Passages {
  public:
    static constexpr std::size_t kLength = 12;
    void add(int pitch_class, int half_beats) {
        tokens_.push_back(static_cast<unsigned>(pitch_class) << 8U | static_cast<unsigned>(half_beats));
    }
    void close() {
        for (std::size_t i = 0; i + kLength <= tokens_.size(); ++i) keys_.insert(key(tokens_, i));
        tokens_.clear();
    }
    [[nodiscard]] std::size_t size() const { return keys_.size(); }
    [[nodiscard]] bool has(const std::vector<unsigned>& tokens, std::size_t at) const {
        return keys_.contains(key(tokens, at));
    }

  private:
    static std::uint64_t key(const std::vector<unsigned>& tokens, std::size_t at) {
        std::uint64_t out = 1469598103934665603ULL;
        for (std::size_t i = at; i < at + kLength; ++i) out = (out ^ tokens[i]) * 1099511628211ULL;
        return out;
    }
    std::vector<unsigned> tokens_;
    std::set<std::uint64_t> keys_;
};

int half_beats(double beats) {
    return std::max(1, static_cast<int>(2 * beats + 0.5));
}

struct ClosePipe {
    void operator()(FILE* pipe) const { pclose(pipe); }
};

Passages played_passages(const std::filesystem::path& file) {
    Passages out;
    const std::unique_ptr<FILE, ClosePipe> pipe{popen(("gzip -dc '" + file.string() + "'").c_str(), "r")};
    std::array<char, 256> line{};
    std::string solo;
    while (pipe && std::fgets(line.data(), static_cast<int>(line.size()), pipe.get()) != nullptr) {
        // chart, solo, chorus, inst, pc, dur, len, onset ...; a note that goes on over a change is not a new
        // one
        const std::vector<std::string_view> cells = split(line.data(), '\t');
        if (cells.size() < 8 || cells[0] == "chart" || cells[7] != "1") continue;
        if (cells[1] != solo) out.close();
        solo = cells[1];
        out.add(std::atoi(std::string{cells[4]}.c_str()),
                half_beats(std::atof(std::string{cells[6]}.c_str()) / 100));
    }
    out.close();
    return out;
}

}  // namespace

TEST_CASE("no passage of twelve notes of a composed etude was played in a solo of the data",
          "[etude][shared]") {
    const std::filesystem::path file =
        std::filesystem::path{SHEDBOOK_SHARED_DIR} / "reference" / "solos" / "notes.tsv.gz";
    if (!std::filesystem::exists(file)) {
        WARN("skipped: ../shared/reference/solos/notes.tsv.gz is not there");
        return;
    }
    const Passages played = played_passages(file);
    REQUIRE(played.size() > 50'000);
    for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line = make_etude(ground, {.kind = "composed", .seed = 100 + seed}, range);
        std::vector<unsigned> tokens;
        for (const LineNote& note : line.notes) {
            const Rational beats = note.length / beat_at(ground, note.at);
            const double length = static_cast<double>(beats.num()) / static_cast<double>(beats.den());
            tokens.push_back(static_cast<unsigned>(note.pitch.midi() % 12) << 8U |
                             static_cast<unsigned>(half_beats(length)));
        }
        int copied = 0;
        for (std::size_t i = 0; i + Passages::kLength <= tokens.size(); ++i) {
            int turns = 0;
            for (std::size_t k = i + 1; k + 1 < i + Passages::kLength; ++k) {
                const int a = line.notes[k].pitch.midi() - line.notes[k - 1].pitch.midi();
                const int b = line.notes[k + 1].pitch.midi() - line.notes[k].pitch.midi();
                turns += a * b <= 0 ? 1 : 0;
            }
            copied += turns > 0 && played.has(tokens, i) ? 1 : 0;  // plain runs are nobody's
        }
        CHECK(copied == 0);
    });
}

}  // namespace shedbook
