// Phrases: what comes with the program keeps the rules of the craft on every root (common practice, no
// source: tell the chord, resolve what is outside, come to rest), and a file of the player's own is read like
// ours.
#include "shedbook/etude/phrase.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

#include "grounds.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {
namespace {

constexpr std::array<const char*, 12> kRoots{"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};
// One symbol of each family that phrases are written for.
std::string suffix_of(ChordFamily family) {
    switch (family) {
        case ChordFamily::Minor:
            return "m7";
        case ChordFamily::Dominant:
            return "7";
        case ChordFamily::HalfDiminished:
            return "m7b5";
        case ChordFamily::Diminished:
            return "dim7";
        case ChordFamily::Suspended:
            return "7sus4";
        default:
            return "maj7";
    }
}

// The chords of a phrase over the given root of its first one, each with its n-th family.
std::vector<std::string> symbols_of(const Phrase& phrase, int root, std::size_t family) {
    static const std::array<std::string, 3> kAny{"m7", "maj7", "7"};
    const std::array<int, 3> any_root{0, 10, 5};
    static const std::array<std::string, 4> kMovingVoice{"m", "m(maj7)", "m7", "m6"};
    const bool moves_inside = phrase.over.front() == UnitKind::LineCliche;
    std::vector<std::string> out;
    for (std::size_t i = 0; i < phrase.chords.size(); ++i) {
        if (moves_inside) {
            out.push_back(kRoots[static_cast<std::size_t>(root)] + kMovingVoice[i % 4]);
            continue;
        }
        const PhraseChord& chord = phrase.chords[i];
        const bool is_any = chord.families.empty();
        const int up = is_any ? any_root[i % 3] : chord.over_first;
        const std::string suffix =
            is_any ? kAny[(i + family) % 3]
                   : suffix_of(chord.families[std::min(family, chord.families.size() - 1)]);
        out.push_back(kRoots[static_cast<std::size_t>((root + up) % 12)] + suffix);
    }
    return out;
}

enum class Pace { BarEach, HalfBarEach, BarOfThree, TwoBarsEach };

std::string chart_of(const std::vector<std::string>& symbols, Pace pace) {
    std::string out =
        std::string{"Title: Test\nMeter: "} + (pace == Pace::BarOfThree ? "3/4" : "4/4") + "\n|";
    for (std::size_t i = 0; i < symbols.size(); ++i) {
        const bool is_last = i + 1 == symbols.size();
        // The last chord has a bar of its own.
        const bool opens = pace != Pace::HalfBarEach || i % 2 == 0 || is_last;
        if (i > 0 && opens) out += " |";
        out += " " + symbols[i];
        if (pace == Pace::TwoBarsEach) out += " | %";
    }
    return out + " |\n";
}

std::vector<ScaleSpan> all_chords(const EtudeGround& ground) {
    std::vector<int> every;
    for (const ScaleSpan& span : ground.spans) every.push_back(span.inst);
    return chords_of_unit(ground, every);
}

bool has_figures(const Phrase& phrase, Duration length) {
    return std::ranges::all_of(phrase.chords, [&](const PhraseChord& chord) {
        return std::ranges::find(chord.figures, length, &PhraseFigure::length) != chord.figures.end();
    });
}

// Half steps over the root: what tells the chord, where a line rests, all its tones.
struct Tones {
    std::vector<int> tell;
    std::vector<int> rest;
    std::vector<int> all;
};
Tones tones_of(const ChordSymbol& symbol) {
    Tones out;
    for (const ChordTone& tone : tones(symbol)) {
        const int up = tone.above_root.semitones() % 12;
        out.all.push_back(up);
        const bool is_stack =
            tone.role == ChordRole::Root || tone.role == ChordRole::Third || tone.role == ChordRole::Fifth;
        if (is_stack) out.rest.push_back(up);
        const bool is_altered_fifth = tone.role == ChordRole::Fifth && up != 7;
        if (tone.role == ChordRole::Third || tone.role == ChordRole::Fourth ||
            tone.role == ChordRole::Seventh || is_altered_fifth)
            out.tell.push_back(up);
    }
    return out;
}
bool has(const std::vector<int>& list, int value) {
    return std::ranges::find(list, value) != list.end();
}

class Rules {
  public:
    Rules(const Phrase& phrase, const ConcertLine& line, const std::vector<ScaleSpan>& chords,
          const EtudeGround& ground)
        : phrase_{phrase}, notes_{line.notes}, chords_{chords}, ground_{ground} {}

    void check() const {
        const auto [low, high] =
            std::ranges::minmax(notes_, {}, [](const LineNote& note) { return note.pitch.midi(); });
        CHECK(high.pitch.midi() - low.pitch.midi() <= 24);
        const int end = over_root(notes_.back(), chords_.back());
        const bool is_colour = phrase_.level >= 4 && (end == 2 || end == 9);
        CHECK((has(tones_of(*chords_.back().symbol).rest, end) || is_colour));
        CHECK(notes_.back().at >= chords_.back().at);
        for (const ScaleSpan& chord : chords_) check_told(chord);
        for (std::size_t i = 0; i < notes_.size(); ++i) check_note(i);
    }

  private:
    static int over_root(const LineNote& note, const ScaleSpan& chord) {
        return (note.pitch.midi() - chord.symbol->root.semitone() + 12) % 12;
    }
    void check_told(const ScaleSpan& chord) const {
        if (chord.length < kHalf) return;
        const std::vector<int> tell = tones_of(*chord.symbol).tell;
        INFO(to_string(*chord.symbol));
        CHECK(std::ranges::any_of(notes_, [&](const LineNote& note) {
            return note.at + kEighth >= chord.at && note.at < chord.at + chord.length &&
                   has(tell, over_root(note, chord));
        }));
    }
    void check_note(std::size_t i) const {
        const LineNote& note = notes_[i];
        INFO("note " << i + 1 << ", " << to_string(note.pitch));
        const ScaleSpan& chord = sounding_at(ground_, note.at);
        // A chord with a double flat of its own has it.
        const bool is_double =
            std::ranges::any_of(chord.chord, [](PitchClass tone) { return std::abs(tone.alter()) > 1; });
        CHECK((std::abs(note.pitch.alter()) <= 1 || is_double));
        const int up = over_root(note, chord);
        const bool is_dominant = family(*chord.symbol) == ChordFamily::Dominant;
        const bool is_altered = is_dominant && (up == 1 || up == 3 || up == 6 || up == 8);
        const bool is_own = has_note(chord.notes, note.pitch) || has_note(chord.chord, note.pitch);
        if (!is_own && !is_altered) CHECK(resolves(i));
        const bool on_beat = ((note.at - Position{}) / kQuarter).is_whole();
        if (is_dominant || !on_beat || note.length < kQuarter) return;
        const std::vector<int> own = tones_of(*chord.symbol).all;
        CHECK((has(own, up) || !has(own, (up + 11) % 12)));
    }
    bool resolves(std::size_t i) const {
        const auto apart = [&](std::size_t a, std::size_t b) {
            return notes_[b].pitch.midi() - notes_[a].pitch.midi();
        };
        if (i + 1 < notes_.size() && std::abs(apart(i, i + 1)) <= 2 && apart(i, i + 1) != 0) return true;
        return i + 2 < notes_.size() && std::abs(apart(i, i + 2)) <= 2 &&
               apart(i, i + 2) * apart(i + 1, i + 2) < 0 && std::abs(apart(i + 1, i + 2)) <= 2;
    }

    const Phrase& phrase_;
    const std::vector<LineNote>& notes_;
    const std::vector<ScaleSpan>& chords_;
    const EtudeGround& ground_;
};

// Three octaves: every phrase has room.
const PitchRange kWide{*parse_pitch("C3"), *parse_pitch("C6")};

void check_everywhere(const Phrase& phrase, Pace pace) {
    for (std::size_t family = 0; family < 2; ++family) {
        for (int root = 0; root < 12; ++root) {
            const std::string chart = chart_of(symbols_of(phrase, root, family), pace);
            INFO(phrase.id << ": " << chart);
            const EtudeGround ground = ground_of_bars(chart);
            const std::vector<ScaleSpan> chords = all_chords(ground);
            const auto line = phrase_line(phrase, chords, ground, kWide);
            // The first family of each chord is the one that it was written for.
            if (family == 0 && pace != Pace::TwoBarsEach) CHECK(line);
            if (!line) continue;
            CHECK(is_within(*line, kWide));
            Rules{phrase, *line, chords, ground}.check();
        }
    }
}

std::vector<Phrase> read(const std::string& text, Diagnostics& said) {
    return read_phrases(SourceText{"mine.toml", text}, said);
}

constexpr const char* kMine =
    "[[phrase]]\nid = \"mine\"\nabout = \"ours\"\nover = \"V-I\"\nlevel = 1\n"
    "chords = [[\"G7\", \"1/4 3 5\"], [\"Cmaj7\", \"1/2 3\"]]\n";

}  // namespace

TEST_CASE("every phrase keeps the rules of the craft on every root, a bar each chord", "[etude][phrases]") {
    for (const Phrase& phrase : phrases()) {
        if (phrase.chords.size() > 1) check_everywhere(phrase, Pace::BarEach);
    }
}

TEST_CASE("every phrase keeps the rules of the craft with two chords a bar", "[etude][phrases]") {
    for (const Phrase& phrase : phrases()) {
        if (phrase.chords.size() > 1) check_everywhere(phrase, Pace::HalfBarEach);
    }
}

TEST_CASE("every phrase keeps the rules of the craft in bars of three", "[etude][phrases]") {
    int found = 0;
    for (const Phrase& phrase : phrases()) {
        if (!has_figures(phrase, Duration{Rational{3, 4}})) continue;
        check_everywhere(phrase, Pace::BarOfThree);
        ++found;
    }
    CHECK(found > 40);
}

TEST_CASE("over chords of two bars a phrase goes half as fast, and keeps the rules", "[etude][phrases]") {
    Diagnostics said;
    const EtudeGround ground = ground_of_bars("Title: Test\nMeter: 4/4\n| G7 | Cmaj7 |\n");
    const auto line = phrase_line(read(kMine, said).front(), all_chords(ground), ground, kWide);
    REQUIRE(line);
    CHECK(line->notes.front().length == kHalf);
    for (const Phrase& phrase : phrases()) {
        if (phrase.chords.size() > 1) check_everywhere(phrase, Pace::TwoBarsEach);
    }
}

TEST_CASE("a phrase on one chord keeps the rules of the craft on every root", "[etude][phrases]") {
    int found = 0;
    for (const Phrase& phrase : phrases()) {
        if (phrase.chords.size() > 1) continue;
        ++found;
        for (int root = 0; root < 12; ++root) {
            const std::string chart =
                "Title: Test\nMeter: 4/4\n| " + symbols_of(phrase, root, 0).front() + " | % | % | % |\n";
            INFO(phrase.id << ": " << chart);
            const EtudeGround ground = ground_of_bars(chart);
            const std::vector<ScaleSpan> chords = all_chords(ground);
            const auto line = phrase_line(phrase, chords, ground, kWide);
            REQUIRE(line);
            Rules{phrase, *line, chords, ground}.check();
        }
    }
    CHECK(found >= 4);
}

TEST_CASE("each kind of unit whose chords move has four to twelve phrases, some of them for who begins",
          "[etude][phrases]") {
    for (const Worded<UnitKind>& kind : kWords<UnitKind>) {
        // Frames that hold other units, and what does not move.
        if (kind.value == UnitKind::BluesFrame || kind.value == UnitKind::KeyCycle ||
            kind.value == UnitKind::LoneChord)
            continue;
        INFO(kind.word);
        std::array<int, 7> of_level{};
        int count = 0;
        for (const Phrase& phrase : phrases()) {
            if (std::ranges::find(phrase.over, kind.value) == phrase.over.end()) continue;
            ++count;
            ++of_level[static_cast<std::size_t>(phrase.level)];
        }
        CHECK(count >= 4);
        CHECK(count <= 12);
        CHECK(of_level[1] >= 1);
        CHECK(of_level[2] >= 1);
    }
}

TEST_CASE("common cadences have a phrase of each middle level, a chord a bar and two", "[etude][phrases]") {
    struct Case {
        UnitKind kind;
        std::vector<std::string> symbols;
    };
    const std::vector<Case> cases{{UnitKind::TwoFive, {"Dm7", "G7"}},
                                  {UnitKind::TwoFive, {"Dm7b5", "G7(b9)"}},
                                  {UnitKind::MajorTwoFiveOne, {"Dm7", "G7", "Cmaj7"}},
                                  {UnitKind::MinorTwoFiveOne, {"Dm7b5", "G7(b9)", "Cm6"}},
                                  {UnitKind::Turnaround, {"Cmaj7", "A7(b9)", "Dm7", "G7"}},
                                  {UnitKind::Turnaround, {"Em7", "A7", "Dm7", "G7"}},
                                  {UnitKind::Backdoor, {"Fm7", "Bb7", "Cmaj7"}}};
    for (const Case& each : cases) {
        for (const Pace pace : {Pace::BarEach, Pace::HalfBarEach}) {
            const std::string chart = chart_of(each.symbols, pace);
            const EtudeGround ground = ground_of_bars(chart);
            for (const int level : {3, 4, 5}) {
                INFO(to_word(each.kind) << ", level " << level << ": " << chart);
                const auto all = phrases_for(each.kind, level, PhraseFeel::Swing);
                CHECK(std::ranges::any_of(all, [&](const Phrase* phrase) {
                    return phrase->level == level && phrase_line(*phrase, all_chords(ground), ground, kWide);
                }));
            }
        }
    }
}

TEST_CASE("every figure of a phrase's last chord rests on a quarter or more", "[etude][phrases]") {
    for (const Phrase& phrase : phrases()) {
        for (const PhraseFigure& figure : phrase.chords.back().figures) {
            INFO(phrase.id);
            const auto last =
                std::find_if(figure.notes.rbegin(), figure.notes.rend(),
                             [](const PhraseNote& note) { return note.kind != PhraseNote::Kind::Rest; });
            REQUIRE(last != figure.notes.rend());
            CHECK(last->length >= kQuarter);
        }
    }
}

TEST_CASE("no two phrases have one name or the same notes", "[etude][phrases]") {
    const std::vector<Phrase>& all = phrases();
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t k = i + 1; k < all.size(); ++k) {
            INFO(all[i].id << " and " << all[k].id);
            CHECK(all[i].id != all[k].id);
            const auto same = [&](const PhraseChord& a, const PhraseChord& b) {
                return a.families == b.families && a.over_first == b.over_first &&
                       std::ranges::equal(a.figures, b.figures, {}, &PhraseFigure::notes,
                                          &PhraseFigure::notes);
            };
            CHECK_FALSE(std::ranges::equal(all[i].chords, all[k].chords, same));
        }
    }
}

TEST_CASE("a phrase lies nearest the middle of the range, and nowhere in one too narrow",
          "[etude][phrases]") {
    Diagnostics said;
    const Phrase mine = read(kMine, said).front();
    const EtudeGround ground = ground_of_bars("Title: Test\nMeter: 4/4\n| G7 Cmaj7 |\n");
    const auto low = phrase_line(mine, all_chords(ground), ground, {*parse_pitch("C2"), *parse_pitch("C4")});
    REQUIRE(low);
    CHECK(to_string(low->notes[0].pitch) == "B2");
    CHECK(to_string(low->notes[1].pitch) == "D3");
    CHECK(to_string(low->notes[2].pitch) == "E3");
    CHECK_FALSE(phrase_line(mine, all_chords(ground), ground, {*parse_pitch("C3"), *parse_pitch("D3")}));
}

TEST_CASE("a phrase is not put on chords that it was not written for", "[etude][phrases]") {
    Diagnostics said;
    const Phrase mine = read(kMine, said).front();
    for (const char* bars : {"G7 Fmaj7", "Gm7 Cmaj7", "G7 C7", "Gmaj7 Cmaj7", "G7"}) {
        INFO(bars);
        const EtudeGround ground = ground_of_bars(std::string{"Title: Test\nMeter: 4/4\n| "} + bars + " |\n");
        CHECK_FALSE(phrase_line(mine, all_chords(ground), ground, kWide));
    }
}

TEST_CASE("a phrase whose last chord leads on comes to rest on the chord behind it", "[etude][phrases]") {
    const EtudeGround ground =
        ground_of_bars("Title: On\nKey: C\n| Dm7 | G7 | Cmaj7 |\n", {.bars = std::pair{1, 3}});
    const std::vector<ScaleSpan> unit = chords_of_unit(ground, {0, 1});
    const PitchRange range = test_ranges()[0].range;
    int played = 0;
    for (const Phrase* phrase : phrases_for(UnitKind::TwoFive, 6, PhraseFeel::Swing)) {
        std::optional<ConcertLine> line = phrase_line(*phrase, unit, ground, range);
        if (!line) continue;
        ++played;
        INFO(phrase->id);
        const Pitch before = line->notes.back().pitch;
        arrive(*line, unit, ground, range);
        const LineNote& last = line->notes.back();
        CHECK(last.at == Position{} + kWhole * Rational{2});
        // C, E or G, the nearest.
        CHECK((last.pitch.midi() % 12 == 0 || last.pitch.midi() % 12 == 4 || last.pitch.midi() % 12 == 7));
        CHECK(std::abs(last.pitch.midi() - before.midi()) <= 2);
        CHECK(range.holds(last.pitch));
        // Where nothing stands behind it, it ends as it does.
        std::optional<ConcertLine> alone =
            phrase_line(*phrase, chords_of_unit(ground, {0, 1, 2}), ground, range);
        if (!alone) continue;
        const std::size_t notes = alone->notes.size();
        arrive(*alone, chords_of_unit(ground, {0, 1, 2}), ground, range);
        CHECK(alone->notes.size() == notes);
    }
    CHECK(played >= 2);
}

TEST_CASE("behind its unit a phrase tells each chord and rests on the last", "[etude][phrases]") {
    const EtudeGround ground =
        ground_of_bars("Title: On\nKey: Dm\n| Em7b5 A7 | Am7b5 D7 | Gm6 |\n", {.bars = std::pair{1, 3}});
    const std::vector<ScaleSpan> unit = chords_of_unit(ground, {0, 1});
    int played = 0;
    for (const Phrase* phrase : phrases_for(UnitKind::TwoFive, 6, PhraseFeel::Swing)) {
        std::optional<ConcertLine> line = phrase_line(*phrase, unit, ground, test_ranges()[0].range);
        if (!line) continue;
        ++played;
        const std::size_t own = line->notes.size();
        arrive(*line, unit, ground, test_ranges()[0].range);
        REQUIRE(line->notes.size() == own + 3);
        const auto sound_of = [&](std::size_t i) { return line->notes[own + i].pitch.midi() % 12; };
        CHECK((sound_of(0) == 0 || sound_of(0) == 7));  // C or G over Am7b5
        CHECK((sound_of(1) == 6 || sound_of(1) == 0));  // F# or C over D7
        CHECK(line->notes.back().at == Position{} + kWhole * Rational{2});
    }
    CHECK(played >= 1);
}

TEST_CASE("an altered chord gets its own degrees", "[etude][phrases]") {
    Diagnostics said;
    const Phrase mine = read(
                            "[[phrase]]\nid = \"mine\"\nabout = \"ours\"\nover = \"V-I\"\nlevel = 1\n"
                            "chords = [[\"G7 or G7sus4\", \"1/4 3 5\"], [\"Cm7\", \"1/2 3\"]]\n",
                            said)
                            .front();
    const EtudeGround ground = ground_of_bars("Title: Test\nMeter: 4/4\n| G7#5 Cm7 | G7sus4 Cm7 |\n");
    const std::vector<ScaleSpan> chords = all_chords(ground);
    const auto raised = phrase_line(mine, std::span{chords}.first(2), ground, kWide);
    REQUIRE(raised);
    CHECK(to_string(raised->notes[1].pitch.name()) == "D#");
    const auto sus = phrase_line(mine, std::span{chords}.last(2), ground, kWide);
    REQUIRE(sus);
    CHECK(to_string(sus->notes[0].pitch.name()) == "C");
}

TEST_CASE("~ lets the note before go on, into the next chord too", "[etude][phrases]") {
    Diagnostics said;
    const Phrase mine = read(
                            "[[phrase]]\nid = \"mine\"\nabout = \"ours\"\nover = \"ii-V\"\nlevel = 1\n"
                            "chords = [[\"Dm7\", \"1/4 3 7\"], [\"G7\", \"1/8 7 1/4 ~ 1/8 3 1/2 5\"]]\n",
                            said)
                            .front();
    const EtudeGround ground = ground_of_bars("Title: Test\nMeter: 4/4\n| Dm7 G7 | G7 |\n");
    CHECK(mine.chords[1].figures.front().notes[1].kind == PhraseNote::Kind::Hold);
    const auto line = phrase_line(mine, all_chords(ground), ground, kWide);
    REQUIRE(line);
    CHECK(line->notes[2].length == Duration{Rational{3, 8}});
}

TEST_CASE("faults of a phrase are said at their place", "[etude][phrases]") {
    struct Case {
        const char* from;
        const char* to;
        const char* message;
        const char* place;
    };
    const std::array<Case, 8> cases{{
        {"1/4 3 5", "1/4 3 h5", "'h5' is no note of a figure", "mine.toml:6:25"},
        {"1/4 3 5", "3 5", "a figure begins with a length", "mine.toml:6:19"},
        {"1/4 3 5", "1/12 3 5 1/4 7", "triplets stand in threes", "mine.toml:6:19"},
        {"1/4 3 5", "1/4 3 up 5", "'up' and 'down' stand before the first note", "mine.toml:6:25"},
        {"\"G7\"", "\"Gq7\"", "no chord is called 'Gq7'", "mine.toml:6:13"},
        {"\"G7\"", "\"G7 or Db7\"", "these chords must have one root", "mine.toml:6:19"},
        {"V-I", "V-II", "no kind of unit is called 'V-II'", "mine.toml:4:8"},
        {"level = 1", "level = 9", "'level' must be a number from 1 to 6", "mine.toml:5:9"},
    }};
    for (const Case& one : cases) {
        std::string text = kMine;
        text.replace(text.find(one.from), std::string{one.from}.size(), one.to);
        INFO(text);
        Diagnostics said;
        CHECK(read(text, said).empty());
        REQUIRE(said.has_errors());
        CHECK_THAT(said.all().front().message, Catch::Contains(one.message));
        CHECK(said.all().front().where == one.place);
    }
}

}  // namespace shedbook
