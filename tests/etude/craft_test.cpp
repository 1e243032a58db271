// What a teacher asks of every etude through changes (common practice, no source): it comes home, it tells
// every chord, it rests where there is time, and what lies outside leads somewhere.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

#include "beat_ground.h"
#include "grounds.h"
#include "rhythm.h"

namespace shedbook {
namespace {

struct Slips {
    int notes = 0;
    int chords = 0;
    int untold = 0;
    int bars = 0;
    int silent_bars = 0;
    int long_rests = 0;
    int held_over = 0;
    int loose = 0;
    int leaning = 0;
    int sus_thirds = 0;
    int bad_ends = 0;
};

bool is_open(const ConcertLine& line, Position from, Position to) {
    return std::ranges::any_of(
        line.open, [&](const OpenStretch& open) { return open.at < to && open.at + open.length > from; });
}

bool is_foreign_bass(const ScaleSpan& span) {
    return span.symbol->bass && !holds(facts_of(*span.symbol).all, span.symbol->bass->semitone());
}

class Judge {
  public:
    Judge(const EtudeGround& ground, const ConcertLine& line) : ground_{ground}, line_{line} {
        for (const ScaleSpan& span : ground.spans) {
            const bool goes_on = !chords_.empty() && !span.notes.empty() &&
                                 chords_.back().symbol == span.symbol &&
                                 chords_.back().at + chords_.back().length == span.at;
            if (goes_on) {
                chords_.back().length += span.length;
            } else if (!span.notes.empty()) {
                chords_.push_back(span);
            }
        }
    }

    Slips judge() {
        out_.notes = static_cast<int>(line_.notes.size());
        judge_end();
        for (const ScaleSpan& chord : chords_) judge_telling(chord);
        judge_silence();
        for (std::size_t i = 0; i < line_.notes.size(); ++i) judge_note(i);
        return out_;
    }

  private:
    void judge_end() {
        const ScaleSpan& last = chords_.back();
        if (is_foreign_bass(last) || is_open(line_, last.at, last.at + last.length)) return;
        const LineNote& note = line_.notes.back();
        const int over = (note.pitch.midi() - last.symbol->root.semitone()) % 12;
        const bool rests = holds(facts_of(*last.symbol).ends, note.pitch.midi()) || over == 2 || over == 9;
        out_.bad_ends += note.at >= last.at && rests ? 0 : 1;
    }

    void judge_telling(const ScaleSpan& chord) {
        const SoundSet tell = facts_of(*chord.symbol).tell;
        const Position end = chord.at + chord.length;
        if (chord.length < kHalf || tell == 0 || is_foreign_bass(chord) || is_open(line_, chord.at, end))
            return;
        if (end <= line_.notes.front().at) return;
        ++out_.chords;
        const bool told = std::ranges::any_of(line_.notes, [&](const LineNote& note) {
            const Position to = note.at + note.length;
            const bool sounds = note.at < end && to > chord.at;
            const bool counts = note.at + kEighth >= chord.at || to - chord.at >= kEighth;
            return sounds && counts && holds(tell, note.pitch.midi());
        });
        out_.untold += told ? 0 : 1;
    }

    void judge_silence() {
        const auto has_chord = [&](Position from, Position to) {
            return std::ranges::any_of(
                chords_, [&](const ScaleSpan& c) { return c.at < to && c.at + c.length > from; });
        };
        for (const GroundBar& bar : ground_.bars) {
            const Position end = bar.at + bar.length;
            ++out_.bars;
            const bool sounds = std::ranges::any_of(line_.notes, [&](const LineNote& note) {
                return note.at < end && note.at + note.length > bar.at;
            });
            const bool begun = end > line_.notes.front().at;
            out_.silent_bars +=
                !sounds && begun && has_chord(bar.at, end) && !is_open(line_, bar.at, end) ? 1 : 0;
        }
        for (std::size_t i = 1; i < line_.notes.size(); ++i) {
            const Position from = line_.notes[i - 1].at + line_.notes[i - 1].length;
            const Position to = line_.notes[i].at;
            Duration under_chords;
            for (const ScaleSpan& chord : chords_) {
                const Position begin = std::max(from, chord.at);
                const Position end = std::min(to, chord.at + chord.length);
                if (begin < end) under_chords += end - begin;
            }
            out_.long_rests += under_chords > kWhole && !is_open(line_, from, to) ? 1 : 0;
        }
    }

    [[nodiscard]] const ScaleSpan* chord_at(Position at) const {
        for (const ScaleSpan& chord : chords_) {
            if (chord.at <= at && at < chord.at + chord.length)
                return is_foreign_bass(chord) ? nullptr : &chord;
        }
        return nullptr;
    }

    void judge_note(std::size_t i) {
        const LineNote& note = line_.notes[i];
        const int pitch = note.pitch.midi();
        const Position end = note.at + note.length;
        for (const ScaleSpan& chord : chords_) {
            if (is_foreign_bass(chord) || chord.at <= note.at || chord.at >= end) continue;
            const Position to = std::min(end, chord.at + chord.length);
            const ChordFacts facts = facts_of(*chord.symbol);
            const bool suits = holds(facts.inside & ~facts.rubs, pitch);
            out_.held_over += to - chord.at >= kEighth && !suits ? 1 : 0;
        }
        const ScaleSpan* chord = chord_at(note.at);
        if (chord == nullptr) return;
        const ChordFacts facts = facts_of(*chord->symbol);
        const ScaleSpan* next = chord_at(end);
        const bool ahead = note.at + kEighth >= chord->at + chord->length &&
                           holds(facts_of(*(next == nullptr ? chord : next)->symbol).inside, pitch);
        judge_outside(i, facts, ahead);
        const GroundBar& bar = *(std::ranges::upper_bound(ground_.bars, note.at, {}, &GroundBar::at) - 1);
        const Duration beat = bar.meter.is_compound() ? bar.meter.beat_length() : kQuarter;
        const bool on_beat = ((note.at - bar.at) / beat).is_whole();
        out_.sus_thirds +=
            holds(facts.sus_third, pitch) && (on_beat || note.length >= kQuarter) && !ahead ? 1 : 0;
        if (!on_beat || note.length < beat || i + 1 == line_.notes.size()) return;
        const int step = std::abs(line_.notes[i + 1].pitch.midi() - pitch);
        const bool goes_on = note.length == beat && step >= 1 && step <= 2;
        out_.leaning += !goes_on && !holds(facts.inside & ~facts.rubs, pitch) ? 1 : 0;
    }

    void judge_outside(std::size_t i, const ChordFacts& facts, bool ahead) {
        const int pitch = line_.notes[i].pitch.midi();
        if (holds(facts.inside, pitch) || ahead) return;
        const auto apart = [&](std::size_t k) {
            return k < line_.notes.size() ? std::abs(line_.notes[k].pitch.midi() - pitch) : 99;
        };
        const bool by_step = apart(i + 1) >= 1 && apart(i + 1) <= 2;
        const bool surrounds = apart(i + 2) >= 1 && apart(i + 2) <= 2 && apart(i + 1) <= 4;
        out_.loose += by_step || surrounds ? 0 : 1;
    }

    const EtudeGround& ground_;
    const ConcertLine& line_;
    std::vector<ScaleSpan> chords_;
    Slips out_;
};

void add(Slips& sum, const Slips& one) {
    sum.notes += one.notes;
    sum.chords += one.chords;
    sum.untold += one.untold;
    sum.bars += one.bars;
    sum.silent_bars += one.silent_bars;
    sum.long_rests += one.long_rests;
    sum.held_over += one.held_over;
    sum.loose += one.loose;
    sum.leaning += one.leaning;
    sum.sus_thirds += one.sus_thirds;
    sum.bad_ends += one.bad_ends;
}

// Charts of our own, wilder than most tunes.
constexpr std::array kWild{
    "Title: Sus\nKey: D dorian\n| D9sus4 | % | F9sus4 | Eb13sus4 | A7sus4(b9) | Bb9sus4 C9sus4 | G7sus4 G7 | "
    "D9sus4 |\n",
    "Title: Four\nKey: C\n| C6 Eb7 Abmaj7 B7 | Emaj7 G7 C6 Am7 | Dm7 G7 Em7 A7 | Dm7 Db7 C6 / |\n",
    "Title: Seven\nKey: G\nMeter: 7/4\n| Gmaj7 / / Em7 / / / | Am7 / / D7 / / / | Bm7 / / E7 / / / | Am7 / / "
    "D7sus4 / / D7 |\n",
    "Title: Uneven\nKey: F\nMeter: 2+2+3/8\n| Fm9 | Ebm9 | Dbmaj7(#11) | C7alt | Fm9 | Bbm7 / Eb7 | Abmaj7 | "
    "Fm6 |\n",
    "Title: Jig\nKey: G\nMeter: 6/8\n| G | C | D | G Em | Am D7 | Bm | C G | D7 |\n",
    "Title: Dim\nKey: F\n| Fmaj7 F#dim7 | Gm7 G#dim7 | Am7 D7(#5) | Gm7 C7(#5) | Faug F6 | Bbmaj7 Bdim7 | "
    "F/C D7 | Gm7 C7 F6 / |\n",
    "Title: Quick\nKey: Bb\n| Bb7 | Eb7 | Bb7 | Fm7 Bb7 | Eb7 | Edim7 | Bb7 | G7(b9) | Cm7 | F7 | Bb7 G7 | "
    "Cm7 F7 |\n",
    "Title: Altered\nKey: Cm\nMeter: 3/4\n| Cm7 | Fm7 | Dm7b5 | G7(b9) | Cm(maj7) | Am7b5 | Ab7(#11) | G7alt "
    "|\n"};

}  // namespace

TEST_CASE("every kind tells the changes, rests where there is time, and resolves what it leaves open",
          "[etude][craft]") {
    std::vector<EtudeGround> grounds;
    for (const NamedGround& tune : test_grounds()) {
        if (tune.name.ends_with(".tune")) grounds.push_back(tune.ground);
    }
    for (const char* text : kWild) grounds.push_back(ground_of_bars(text));
    REQUIRE(grounds.size() >= kWild.size());
    for (const EtudeKind& kind : etude_kinds()) {
        Slips sum;
        std::uint64_t seed = 501;
        for (const EtudeGround& ground : grounds) {
            for (const int level : {1, 2, 4, 6}) {
                const EtudeRequest request{.kind = kind.id, .level = level, .seed = ++seed};
                const ConcertLine line = make_etude(ground, request, test_ranges()[seed % 7].range);
                REQUIRE_FALSE(line.notes.empty());
                add(sum, Judge{ground, line}.judge());
            }
        }
        INFO(kind.id);
        CHECK(sum.bad_ends == 0);
        // A riff stays what it is over chords that pass, and leaves room behind it: aab_test.cpp.
        if (kind.id != "aab") {
            CHECK(sum.long_rests == 0);
            CHECK(100 * sum.untold <= sum.chords);
            CHECK(100 * sum.silent_bars <= sum.bars);
        }
        CAPTURE(sum.held_over, sum.loose, sum.leaning, sum.sus_thirds, sum.notes);
        CHECK(1000 * (sum.held_over + sum.loose + sum.leaning + sum.sus_thirds) <= sum.notes);
    }
}

namespace {

struct Ending {
    const char* bars;
    bool is_turnaround;
    const char* home;  // the chord that the etude ends on
};
// Key C or C minor as the signature says.
constexpr std::array kEndings{
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 | G7 |\n", true, "Cmaj7"},
    Ending{"Key: C\n| C6 | Am7 | Dm7 G7 | Em7 A7 Dm7 G7 |\n", true, "C6"},
    Ending{"Key: C\n| Cmaj7 | Fmaj7 | Dm7 | G7sus4 |\n", true, "Cmaj7"},
    Ending{"Key: C\n| Cmaj7 | Fmaj7 | Dm7 | Db7 |\n", true, "Cmaj7"},
    Ending{"Key: C\n| Dm7 | G7 | Cmaj7 | Dm7 G7 |\n", true, "Cmaj7"},
    Ending{"Key: C\n| C | F | C | G |\n", true, "C"},
    Ending{"Key: C\n| C7 | F7 | C7 | C7 | F7 | F7 | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7 |\n", true, "C7"},
    Ending{"Key: Cm\n| Cm6 | Fm7 | Dm7b5 | G7alt |\n", true, "Cm6"},
    Ending{"Key: Cm\n| Cm7 | Abmaj7 | Dm7b5 | Dm7b5 G7(b9) |\n", true, "Cm7"},
    Ending{"Key: C\n| Dm7 | G7 | Em7 | Am7 | Dm7 | G7 |\n", true, "C6"},
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 G7 | C6 |\n", false, "C6"},
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 | G7 C6 |\n", false, "C6"},
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 | Dm7 G7 C6 / |\n", false, "C6"},
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 | Dm7 Db7 / C6 |\n", false, "C6"},
    Ending{"Key: C\n| C7 | F7 | C7 | C7 | F7 | F7 | C7 | C7 | G7 | F7 | C7 | C7 |\n", false, "C7"},
    Ending{"Key: Cm\n| Cm7 | Fm7 | Cm7 | G7 | Cm7 | Fm7 | Ab7 G7 | Cm(maj7) |\n", false, "Cm(maj7)"},
    Ending{"Key: D dorian\n| Dm7 | % | Ebm7 | % | Dm7 | Em7/D | Dm7 | % |\n", false, "Dm7"},
    Ending{"Key: G mixolydian\n| G7sus4 | % | F6 | G7sus4 |\n", false, "G7sus4"},
    Ending{"Key: C\nMeter: 3/4\n| Cmaj7 | Am7 | Dm7 / G7 | C6 |\n", false, "C6"},
    Ending{"Key: C\n| Cmaj7 | Am7 | Dm7 | G7 | Fmaj7 | Fm6 | C6 | N.C. |\n", false, "C6"},
};

}  // namespace

TEST_CASE("an etude ends under its last chord, at home: a turnaround gets a last time", "[etude][craft]") {
    for (const Ending& ending : kEndings) {
        const EtudeGround ground = ground_of_bars(std::string{"Title: End\n"} + ending.bars);
        INFO(ending.bars);
        CHECK(ground.has_last_time == ending.is_turnaround);
        const ScaleSpan* last = nullptr;
        for (const ScaleSpan& span : ground.spans) last = span.notes.empty() ? last : &span;
        REQUIRE(last != nullptr);
        CHECK(to_string(*last->symbol) == ending.home);
        for (const EtudeKind& kind : etude_kinds()) {
            for (const int level : {1, 3, 6}) {
                INFO(kind.id << " " << level);
                const ConcertLine line =
                    make_etude(ground, {.kind = kind.id, .level = level, .seed = 31}, test_ranges()[0].range);
                CHECK(line.notes.back().at >= last->at);
                const int over = (line.notes.back().pitch.midi() - last->symbol->root.semitone() + 12) % 12;
                const bool rests = over == 0 || over == 3 || over == 4 || over == 6 || over == 7;
                CHECK(rests);
            }
        }
    }
}

TEST_CASE("some bars of a tune, or choruses within, have no last time", "[etude][craft]") {
    const std::string text = "Title: Loop\nKey: C\n| Cmaj7 | Am7 | Dm7 | G7 |\n";
    CHECK_FALSE(ground_of_bars(text, {.bars = std::pair{1, 4}}).has_last_time);
    const EtudeGround thrice = ground_of_bars(text, {.choruses = 3});
    CHECK(thrice.has_last_time);
    CHECK(thrice.bars.size() == 13);
}

TEST_CASE("the tempo decides what values there are", "[etude][craft]") {
    const std::string head =
        "Title: Clock\nKey: F\n| Gm7 | C7 | Fmaj7 | Dm7 |\n| Gm7 C7 | Am7 D7 | Gm7 C7 | F6 |\n";
    const EtudeGround tune = ground_of_bars(head, {.choruses = 4});
    for (const EtudeKind& kind : etude_kinds()) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            for (const int tempo : {60, 120, 165, 180, 201, 240, 280}) {
                INFO(kind.id << " level " << level << " at " << tempo);
                const EtudeRequest request{
                    .kind = kind.id, .level = level, .seed = 5, .style = EtudeStyle::Swing, .tempo = tempo};
                const ConcertLine line = make_etude(tune, request, test_ranges()[0].range);
                int sixteenths = 0;
                int triplets = 0;
                for (const LineNote& note : line.notes) {
                    const Rational beats = note.at.whole_notes * Rational{4};
                    triplets += (beats * Rational{2}).is_whole() || !(beats * Rational{3}).is_whole() ? 0 : 1;
                    sixteenths +=
                        !(beats * Rational{2}).is_whole() && (beats * Rational{4}).is_whole() ? 1 : 0;
                }
                if (tempo > 172 || (tempo > 160 && level < kHighestLevel)) CHECK(sixteenths == 0);
                if (tempo >= 200) CHECK(triplets == 0);
            }
        }
    }
}

TEST_CASE("no beat is short then long in three", "[etude][craft]") {
    for_each_case(Coverage::Some, [](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        if (ground.bars.front().meter.is_compound()) return;
        const ConcertLine line =
            make_etude(ground, {.kind = "composed", .level = 5, .seed = 900 + seed}, range);
        int backwards = 0;
        for (std::size_t i = 0; i + 1 < line.notes.size(); ++i) {
            const GroundBar& bar =
                *(std::ranges::upper_bound(ground.bars, line.notes[i].at, {}, &GroundBar::at) - 1);
            const bool on_beat = ((line.notes[i].at - bar.at) / kQuarter).is_whole();
            const Duration apart = line.notes[i + 1].at - line.notes[i].at;
            const bool alone =
                i + 2 == line.notes.size() || line.notes[i + 2].at >= line.notes[i].at + kQuarter;
            backwards += on_beat && apart == Duration{Rational{1, 12}} && alone ? 1 : 0;
        }
        CHECK(backwards == 0);
    });
}

TEST_CASE("a level keeps its word: quarters are quarters, eighths are eighths", "[etude][craft]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Word\nKey: Eb\n| Ebmaj7 | Cm7 | Fm7 | Bb7 |\n| Gm7 C7 | Fm7 Bb7 | Ebmaj7 Ab7 | Eb6 |\n",
        {.choruses = 2});
    for (const EtudeKind& kind : etude_kinds()) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            const std::string& says = kind.levels[static_cast<std::size_t>(level - 1)];
            const bool quarters = says.find("quarters") != std::string::npos;
            const bool eighths = says.find("eighths") != std::string::npos;
            if (!quarters && !eighths) continue;
            INFO(kind.id << " " << level << ": " << says);
            for (std::uint64_t seed = 71; seed < 75; ++seed) {
                const ConcertLine line =
                    make_etude(tune, {.kind = kind.id, .level = level, .seed = seed}, test_ranges()[1].range);
                for (const LineNote& note : line.notes) {
                    const Rational unit{quarters ? 4 : 8};
                    CHECK((note.at.whole_notes * unit).is_whole());
                    if (!quarters) continue;
                    // Nothing is tied over a bar line.
                    const std::int64_t bar = note.at.whole_notes.floor();
                    CHECK(note.at + note.length <= Position{Rational{bar + 1}});
                }
            }
        }
    }
}

TEST_CASE("the lower the level, the more a composed line has chord tones on strong beats and whole phrases",
          "[etude][craft]") {
    struct Share {
        int of = 0;
        int all = 0;
        [[nodiscard]] double value() const { return static_cast<double>(of) / all; }
    };
    const auto count = [](Share& share, bool is_one) {
        ++share.all;
        share.of += is_one ? 1 : 0;
    };
    std::array<Share, 3> strong;
    std::array<Share, 3> whole;
    const EtudeGround ground = ground_of_bars(
        "Title: Plain\nKey: F\n| Fmaj7 | Em7b5 A7b9 | Dm7 | Cm7 F7 |\n| Bbmaj7 | Bbm7 Eb7 | Am7 | D7b9 |\n"
        "| Gm7 | C7 | Am7b5 | D7alt |\n| Gm7 | C7sus4 C7 | F6 Ddim7 | F6 |\n");
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        for (std::size_t i = 0; i < strong.size(); ++i) {
            const int level = std::array{1, 3, 6}[i];
            const ConcertLine line = make_etude(
                ground, {.kind = "composed", .level = level, .seed = 400 + seed}, test_ranges()[0].range);
            int in_phrase = 0;
            for (std::size_t k = 0; k < line.notes.size(); ++k) {
                const LineNote& note = line.notes[k];
                const GroundBar& bar =
                    *(std::ranges::upper_bound(ground.bars, note.at, {}, &GroundBar::at) - 1);
                if (((note.at - bar.at) / kHalf).is_whole())
                    count(strong[i], has_note(sounding_at(ground, note.at).chord, note.pitch));
                ++in_phrase;
                if (k + 1 == line.notes.size() || line.notes[k + 1].at - (note.at + note.length) < kEighth)
                    continue;
                count(whole[i], in_phrase >= 4);
                in_phrase = 0;
            }
        }
    }
    INFO(strong[0].value() << " " << strong[1].value() << " " << strong[2].value() << " phrases "
                           << whole[0].value() << " " << whole[1].value() << " " << whole[2].value());
    CHECK(strong[0].value() > 0.85);
    CHECK(strong[1].value() > 0.72);
    CHECK(strong[1].value() > strong[2].value() + 0.05);
    CHECK(whole[0].value() > 0.9);
    CHECK(whole[1].value() > 0.95);
}

TEST_CASE("at first nothing lies outside the scale, and never on a beat up to level 3", "[etude][craft]") {
    for (const char* kind : {"composed", "call-and-answer", "targets"}) {
        for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
            for (const int level : {1, 3}) {
                const ConcertLine line =
                    make_etude(ground, {.kind = kind, .level = level, .seed = 300 + seed}, range);
                int outside = 0;
                for (const LineNote& note : line.notes) {
                    const ScaleSpan& span = sounding_at(ground, note.at);
                    const ScaleSpan& next =
                        sounding_at(ground, std::min(note.at + note.length, ground.bars.back().at));
                    const bool inside = has_note(span.notes, note.pitch) ||
                                        has_note(span.chord, note.pitch) ||
                                        has_note(next.notes, note.pitch) || has_note(next.chord, note.pitch);
                    const GroundBar& bar =
                        *(std::ranges::upper_bound(ground.bars, note.at, {}, &GroundBar::at) - 1);
                    const bool on_beat = ((note.at - bar.at) / bar.meter.beat_length()).is_whole();
                    outside += !inside && (level == 1 || on_beat) ? 1 : 0;
                }
                INFO(kind << " " << level);
                CHECK(outside == 0);
            }
        });
    }
}

TEST_CASE("the style follows the feel, the meter and the harmony", "[etude][craft]") {
    const EtudeGround sevenths = ground_of_bars("Title: A\nKey: C\n| Dm7 | G7 | Cmaj7 | Cmaj7 |\n");
    const EtudeGround triads = ground_of_bars("Title: B\nKey: D\n| D | G | A | D |\n");
    const EtudeGround jig = ground_of_bars("Title: C\nKey: D\nMeter: 6/8\n| D | G | A | D |\n");
    const EtudeGround three = ground_of_bars("Title: D\nKey: C\nMeter: 3/4\n| Dm7 | G7 | Cmaj7 | Cmaj7 |\n");
    // Songs have dominants, and pedals of triads; a blues is none.
    const EtudeGround pedal = ground_of_bars(
        "Title: E\nKey: D\n| D | C/D | G/D | D |\n| Bm | E7/G# | A7sus4 | A7 |\n| D | G | A/C# | D |\n");
    const EtudeGround blues =
        ground_of_bars("Title: F\nKey: F\n| F7 | Bb7 | F7 | C7 |\n| F | F7 | C7 | F |\n");
    CHECK(style_of("even eighths", pedal) == EtudeStyle::Traditional);
    CHECK(style_of("", blues) == EtudeStyle::Swing);
    CHECK(style_of("", sevenths) == EtudeStyle::Swing);
    CHECK(style_of("medium swing", triads) == EtudeStyle::Swing);
    CHECK(style_of("", triads) == EtudeStyle::Traditional);
    CHECK(style_of("even eighths", triads) == EtudeStyle::Traditional);
    CHECK(style_of("even eighths", sevenths) == EtudeStyle::Latin);
    CHECK(style_of("Bossa", sevenths) == EtudeStyle::Latin);
    CHECK(style_of("swing ballad", sevenths) == EtudeStyle::Ballad);
    CHECK(style_of("modern, straight", sevenths) == EtudeStyle::Modern);
    CHECK(style_of("swing", jig) == EtudeStyle::Compound);
    CHECK(style_of("", three) == EtudeStyle::Waltz);
    CHECK(style_of("seventh heaven", sevenths) == EtudeStyle::Swing);  // whole words only
}

TEST_CASE("a folk song gets no note outside the scale, a jig no three quarters against its two beats",
          "[etude][craft]") {
    const EtudeGround song =
        ground_of_bars("Title: Song\nKey: D\n| D | G | A | D |\n| Bm | Em | A7 | D |\n", {.choruses = 2});
    const EtudeGround jig = ground_of_bars(
        "Title: Jig\nKey: D\nMeter: 6/8\n| D | G | A | D |\n| Bm | Em | A7 | D |\n", {.choruses = 2});
    for (std::uint64_t seed = 611; seed < 619; ++seed) {
        const EtudeRequest request{.kind = "composed", .level = 6, .seed = seed};
        for (const LineNote& note : make_etude(song, request, test_ranges()[4].range).notes)
            CHECK(has_note(song.spans.front().notes, note.pitch));  // D major throughout
        const ConcertLine line = make_etude(jig, request, test_ranges()[4].range);
        for (std::size_t i = 0; i + 1 < line.notes.size(); ++i) {
            const Rational in_bar = line.notes[i].at.whole_notes / Rational{3, 4};
            const Rational eighth = (in_bar - Rational{in_bar.floor()}) * Rational{6};
            // A quarter from the second eighth to the fourth would go against the beat.
            const bool against = eighth == Rational{2} && line.notes[i + 1].at - line.notes[i].at == kQuarter;
            CHECK_FALSE(against);
        }
    }
}

TEST_CASE("four chords in a bar are played through, not passed in silence", "[etude][craft]") {
    const EtudeGround busy = ground_of_bars(
        "Title: Busy\nKey: F\n| F6 D7 Gm7 C7 | F6 | Am7 D7 Gm7 C7 | F6 |\n| Cm7 F7 Bb6 Bdim7 | F6 | Gm7 C7 "
        "F6 D7 "
        "| Gm7 C7 |\n");
    for (const int level : {2, 4, 6}) {
        for (std::uint64_t seed = 41; seed < 49; ++seed) {
            const ConcertLine line =
                make_etude(busy, {.kind = "composed", .level = level, .seed = seed}, test_ranges()[0].range);
            for (const ScaleSpan& span : busy.spans) {
                INFO("level " << level << ", seed " << seed << ", chord at " << span.at.whole_notes.num()
                              << "/" << span.at.whole_notes.den());
                CHECK(std::ranges::any_of(line.notes, [&](const LineNote& note) {
                    return note.at < span.at + span.length && note.at + note.length > span.at;
                }));
            }
        }
    }
}

TEST_CASE("up to level 5 no note outside the scale is on the first beat of a bar", "[etude][craft]") {
    for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line =
            make_etude(ground, {.kind = "composed", .level = 5, .seed = 500 + seed}, range);
        int outside = 0;
        for (const LineNote& note : line.notes) {
            const ScaleSpan& span = sounding_at(ground, note.at);
            const bool inside = has_note(span.notes, note.pitch) || has_note(span.chord, note.pitch);
            const bool starts_bar =
                std::ranges::any_of(ground.bars, [&](const GroundBar& bar) { return bar.at == note.at; });
            outside += starts_bar && !inside ? 1 : 0;
        }
        CHECK(outside == 0);
    });
}

TEST_CASE("marches and jigs hold hardly a note over the beat, and waltzes of triads stay in their scales",
          "[etude][craft]") {
    const EtudeGround march = ground_of_bars(
        "Title: March\nKey: Bb\nMeter: 2/4\n| Bb | F7 | F7 | Bb | Eb | Bb | C7 | F7 |\n| Bb | F7 | Gm | D7 | "
        "Eb | "
        "Bb | F7 | Bb |\n");
    const EtudeGround jig = ground_of_bars(
        "Title: Jig\nKey: G\nMeter: 6/8\n| G | C G | D7 | G D7 | G | C | Am D7 | G |\n| Em | Bm | C | D7 | "
        "Em | Am "
        "| C D7 | G |\n");
    const EtudeGround waltz = ground_of_bars(
        "Title: Waltz\nKey: C\nMeter: 3/4\n| C | C | F | C | Am | Am | G7 | G7 |\n| C | C | F | F | C | G7 | "
        "C | C "
        "|\n");
    for (const int level : {2, 4}) {
        int notes = 0;
        int held = 0;
        for (std::uint64_t seed = 71; seed < 77; ++seed) {
            for (const EtudeGround* ground : {&march, &jig}) {
                const ConcertLine line = make_etude(
                    *ground, {.kind = "composed", .level = level, .seed = seed}, test_ranges()[4].range);
                const Duration beat = ground->bars.front().meter.beat_length();
                for (const LineNote& note : line.notes) {
                    const Rational on = (note.at - Position{}) / beat;
                    const Rational next{on.floor() + 1};
                    ++notes;
                    held += !on.is_whole() && (note.at + note.length - Position{}) / beat > next ? 1 : 0;
                }
            }
            const EtudeRequest request{
                .kind = "composed", .level = level, .seed = seed, .style = EtudeStyle::Waltz};
            for (const LineNote& note : make_etude(waltz, request, test_ranges()[4].range).notes) {
                const ScaleSpan& span = sounding_at(waltz, note.at);
                CHECK((has_note(span.notes, note.pitch) || has_note(span.chord, note.pitch)));
            }
        }
        INFO("level " << level << ": " << held << " of " << notes);
        CHECK(12 * held <= notes);
    }
}

TEST_CASE("a ballad sings longer notes than swing over the same chords", "[etude][craft]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Slow\nKey: Eb\n| Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 | Bb7 |\n| Ebmaj7 | Eb7 | Abmaj7 "
        "| Abm6 "
        "| Gm7 | C7 | Fm7 Bb7 | Eb6 |\n");
    std::array<Duration, 2> sounding;
    std::array<int, 2> notes{};
    for (std::uint64_t seed = 81; seed < 89; ++seed) {
        for (const std::size_t k : {0U, 1U}) {
            const EtudeStyle style = k == 0 ? EtudeStyle::Ballad : EtudeStyle::Swing;
            const EtudeRequest request{
                .kind = "composed", .level = 4, .seed = seed, .style = style, .tempo = 62};
            const ConcertLine line = make_etude(tune, request, test_ranges()[4].range);
            for (const LineNote& note : line.notes) sounding[k] += note.length;
            notes[k] += static_cast<int>(line.notes.size());
        }
    }
    // A fourth longer on the mean.
    CHECK(sounding[0] * Rational{4 * notes[1]} > sounding[1] * Rational{5 * notes[0]});
}

}  // namespace shedbook
