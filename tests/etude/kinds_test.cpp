// What makes each kind what it is (rules of the trade; those with a source name it).
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <map>
#include <set>
#include <string>

#include "chord_facts.h"
#include "grounds.h"
#include "shedbook/drill/speeds.h"

namespace shedbook {
namespace {

int apart(Pitch a, Pitch b) {
    return std::abs(a.midi() - b.midi());
}

bool tells(const ScaleSpan& span, Pitch pitch) {
    const ChordFacts facts = facts_of(*span.symbol);
    return holds(facts.tell == 0 ? facts.tones : facts.tell, pitch.midi());
}

}  // namespace

TEST_CASE("a guide-tone line has one third or seventh a chord, mostly the nearest to the last", "[etude]") {
    int moves = 0;
    int far = 0;
    for_each_case(Coverage::InTurn, [&](const EtudeGround& ground, PitchRange full, std::uint64_t seed) {
        const ConcertLine line = make_etude(ground, {.kind = "guide-tones", .level = 1, .seed = seed}, full);
        int wrong = 0;
        const LineNote* before = nullptr;
        for (const LineNote& note : line.notes) {
            const ScaleSpan& span = sounding_at(ground, note.at);
            // A chord that comes within a beat of the grid is heeded a little early or late.
            const bool is_last = &note == &line.notes.back();
            wrong += is_last || note.at < span.at + kQuarter || tells(span, note.pitch) ? 0 : 1;
            if (before != nullptr && note.at == span.at) {
                ++moves;
                far += apart(note.pitch, before->pitch) > 5 ? 1 : 0;
            }
            before = &note;
        }
        CHECK(wrong == 0);
    });
    // A leap now and then keeps the line in the middle.
    CHECK(100 * far <= 6 * moves);
}

TEST_CASE("a second time through begins on the other guide tone of its first chord", "[etude]") {
    const EtudeGround ground = ground_of_bars("Title: Twice\nKey: C\n| Dm7 | G7 | Cmaj7 |\n",
                                              {.bars = std::pair{1, 3}, .choruses = 2});
    for (const NamedRange& part : test_ranges()) {
        INFO(part.instrument);
        const ConcertLine line = make_etude(ground, {.kind = "guide-tones", .level = 1}, part.range);
        const auto first_at = [&](Position at) {
            const auto found = std::ranges::find(line.notes, at, &LineNote::at);
            REQUIRE(found != line.notes.end());
            return found->pitch.midi() % 12;
        };
        const int first = first_at(Position{});
        const int second = first_at(Position{} + kWhole * Rational{3});
        // F and C.
        CHECK(first != second);
        CHECK(first + second == 5 + 0);
    }
}

TEST_CASE("guide tones stay in the middle of the range however long the form is", "[etude]") {
    // Sixty-four bars of a cycle of fifths, which pulls them down by a half step a bar.
    std::string bars = "Title: Wheels\nKey: C\n";
    for (int i = 0; i < 64; ++i) {
        constexpr std::array kRoots{"C", "F", "Bb", "Eb", "Ab", "Db", "Gb", "B", "E", "A", "D", "G"};
        bars += std::string{"| "} + kRoots[static_cast<std::size_t>(i) % kRoots.size()] + "7 ";
    }
    const EtudeGround tune = ground_of_bars(bars + "|\n");
    for (const NamedRange& part : test_ranges()) {
        if (part.range.high.midi() - part.range.low.midi() < 24) continue;
        const ConcertLine line = make_etude(tune, {.kind = "guide-tones", .level = 4}, part.range);
        const double centre = (part.range.low.midi() + part.range.high.midi()) / 2.0;
        for (const LineNote& note : line.notes) CHECK(std::abs(note.pitch.midi() - centre) <= 12);
    }
}

TEST_CASE("in a cycle of fifths guide tones move by step or stay", "[etude]") {
    // R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.7.
    const EtudeGround cycle = ground_of_bars(
        "Title: Wheel\nKey: C\n| E7 | A7 | D7 | G7 | C7 | F7 | Bb7 | Eb7 | Ab7 | Db7 | Gb7 | B7 |\n");
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const ConcertLine line =
            make_etude(cycle, {.kind = "guide-tones", .level = 1, .seed = seed}, test_ranges()[4].range);
        REQUIRE(line.notes.size() >= 12);
        for (std::size_t i = 1; i < 12; ++i) {
            if (i == 8) continue;  // a new phrase may begin elsewhere
            CHECK(apart(line.notes[i].pitch, line.notes[i - 1].pitch) <= 2);
        }
    }
}

TEST_CASE("ornaments of a guide-tone line lead by scale steps into the next guide tone", "[etude]") {
    const EtudeGround tune =
        ground_of_bars("Title: Stair\nKey: Bb\n| Cm7 | F7 | Bbmaj7 | G7 | Cm7 | F7 | Bb6 | Bb6 |\n");
    for (int level = 2; level <= kHighestLevel; ++level) {
        const ConcertLine line =
            make_etude(tune, {.kind = "guide-tones", .level = level}, test_ranges()[0].range);
        for (std::size_t i = 1; i < line.notes.size(); ++i) {
            const ScaleSpan& span = sounding_at(tune, line.notes[i].at);
            if (line.notes[i].at != span.at) continue;
            const ScaleSpan& before = sounding_at(tune, line.notes[i - 1].at);
            CHECK(has_note(before.notes, line.notes[i - 1].pitch));
            CHECK(apart(line.notes[i].pitch, line.notes[i - 1].pitch) <= 3);
        }
    }
}

// "alt" names no tone: its b9 and b13 stand for it (common practice, no source).
bool is_altered(const ScaleSpan& span, Pitch pitch) {
    const int up = (pitch.midi() - span.symbol->root.semitone() + 120) % 12;
    return to_string(*span.symbol).ends_with("7alt") && (up == 1 || up == 8);
}

TEST_CASE("altered chords are heard with their altered tones", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Bent\nKey: C\n| Dm7 G7alt | Cmaj7 A7alt | Dm7 G7(b9) | Em7 A7alt Dm7 G7alt | C6 |\n");
    for (const char* kind : {"arpeggios-up", "arpeggios-down", "unbroken-scale", "composed"}) {
        int chords = 0;
        int plain = 0;
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            for (const int level : {3, 4, 5}) {
                const ConcertLine line = make_etude(
                    tune, {.kind = kind, .level = level, .seed = seed, .tempo = 120}, test_ranges()[0].range);
                for (const ScaleSpan& span : tune.spans) {
                    if (family(*span.symbol) != ChordFamily::Dominant) continue;
                    int notes = 0;
                    int altered = 0;
                    for (const LineNote& note : line.notes) {
                        if (&sounding_at(tune, note.at) != &span) continue;
                        const int up = (note.pitch.midi() - span.symbol->root.semitone() + 120) % 12;
                        ++notes;
                        altered += up == 1 || up == 3 || up == 6 || up == 8 ? 1 : 0;
                    }
                    chords += notes < 2 ? 0 : 1;
                    plain += notes < 2 || altered > 0 ? 0 : 1;
                }
            }
        }
        // A composed line weighs it against its other aims.
        INFO(kind << ": " << plain << " of " << chords);
        CHECK(plain * 12 <= (std::string{kind} == "composed" ? chords : 0));
    }
}

// Common practice, no source: the flat fifth tells a half-diminished chord from a minor seventh.
TEST_CASE("a half-diminished chord is heard with its flat fifth", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Low Door\nKey: Am\n| Bm7b5 | E7(b9) | Am6 | Am6 |\n| Bm7b5 E7alt | Am6 | Dm7 | Bm7b5 E7 | "
        "Am6 |\n");
    // One in so many may do without: a scale of few notes cannot leap to it, a composed line has other aims.
    for (const auto& [kind, one_in] :
         {std::pair<std::string, int>{"arpeggios-up", 1000}, {"unbroken-scale", 8}, {"composed", 4}}) {
        int chords = 0;
        int plain = 0;
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            for (const int level : {2, 3, 5}) {
                const ConcertLine line = make_etude(
                    tune, {.kind = kind, .level = level, .seed = seed, .tempo = 120}, test_ranges()[0].range);
                for (const ScaleSpan& span : tune.spans) {
                    if (to_string(*span.symbol) != "Bm7b5") continue;
                    const auto sounds = [&](const LineNote& note) {
                        return &sounding_at(tune, note.at) == &span;
                    };
                    const auto notes = std::ranges::count_if(line.notes, sounds);
                    const auto flat_fifths = std::ranges::count_if(line.notes, [&](const LineNote& note) {
                        return sounds(note) && note.pitch.midi() % 12 == 5;
                    });
                    chords += notes < 2 ? 0 : 1;
                    plain += notes < 2 || flat_fifths > 0 ? 0 : 1;
                }
            }
        }
        INFO(kind << ": " << plain << " of " << chords);
        CHECK(chords > 0);
        CHECK(plain * one_in <= chords);
    }
}

// Common practice, no source: the third of a secondary dominant is what leads.
TEST_CASE("a dominant from outside the key is heard by its third", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Side Doors\nKey: C\n| Cmaj7 | E7 | Am7 | D7 |\n| Dm7 | A7(b9) | Dm7 | G7 |\n| Em7b5 | A7 | "
        "Dm7 G7 | C6 |\n");
    const auto is_from_outside = [](const ScaleSpan& span) {
        const std::string name = to_string(*span.symbol);
        return name == "E7" || name.starts_with("A7");
    };
    for (const char* kind : {"guide-tones", "arpeggios-up", "unbroken-scale", "targets", "composed"}) {
        int chords = 0;
        int silent = 0;
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            for (const int level : {2, 3, 4, 5}) {
                const ConcertLine line = make_etude(
                    tune, {.kind = kind, .level = level, .seed = seed, .tempo = 120}, test_ranges()[0].range);
                for (const ScaleSpan& span : tune.spans) {
                    if (!is_from_outside(span)) continue;
                    ++chords;
                    silent += std::ranges::any_of(
                                  line.notes,
                                  [&](const LineNote& note) {
                                      return note.at + note.length > span.at &&
                                             note.at < span.at + span.length &&
                                             (note.pitch.midi() - span.symbol->root.semitone()) % 12 == 4;
                                  })
                                  ? 0
                                  : 1;
                }
            }
        }
        INFO(kind << ": " << silent << " of " << chords);
        // A composed line weighs it against its other aims; a target is chosen freely now and then.
        const bool is_free = std::string{kind} == "composed" || std::string{kind} == "targets";
        CHECK(silent * 8 <= (is_free ? chords : 0));
    }
}

TEST_CASE("arpeggios are chord tones; upwards each chord starts lower than the last one ended", "[etude]") {
    for (const char* kind : {"arpeggios-up", "arpeggios-down", "arpeggio-waves"}) {
        INFO(kind);
        const bool is_wave = std::string{kind} == "arpeggio-waves";
        const int ahead = std::string{kind} == "arpeggios-down" ? -1 : 1;
        int changes = 0;
        int no_new_start = 0;
        std::size_t notes = 0;
        std::size_t far_leaps = 0;
        std::size_t short_turns = 0;  // where there is room for more
        for_each_case(Coverage::InTurn, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
            const ConcertLine line = make_etude(ground, {.kind = kind, .level = 4, .seed = seed}, range);
            int wrong = 0;
            notes += line.notes.size();
            const bool has_room = range.high.midi() - range.low.midi() > 24;
            for (std::size_t i = 0; i < line.notes.size(); ++i) {
                const LineNote& note = line.notes[i];
                const ScaleSpan& span = sounding_at(ground, note.at);
                wrong += has_note(span.chord, note.pitch) || is_altered(span, note.pitch) ? 0 : 1;
                if (i == 0 || i + 1 == line.notes.size()) continue;
                const LineNote& before = line.notes[i - 1];
                const int by = (note.pitch.midi() - before.pitch.midi()) * ahead;
                far_leaps += std::abs(by) > 12 ? 1 : 0;
                const bool same_chord = &sounding_at(ground, before.at) == &span;
                if (!same_chord) {
                    ++changes;
                    no_new_start += by >= 0 ? 1 : 0;
                } else {
                    short_turns += is_wave || !has_room || by > 0 || by <= -3 ? 0 : 1;
                }
            }
            CHECK(wrong == 0);
        });
        CHECK(1000 * far_leaps <= notes);
        CHECK(10'000 * short_turns <= notes);
        if (!is_wave) CHECK(100 * no_new_start <= 15 * changes);
    }
}

TEST_CASE("an unbroken scale line has no rest and turns seldom but at the ends of the range", "[etude]") {
    int notes = 0;
    int turns = 0;
    for_each_case(Coverage::InTurn, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line = make_etude(ground, {.kind = "unbroken-scale", .seed = seed}, range);
        int gaps = 0;
        int outside = 0;
        int wide = 0;
        for (std::size_t i = 0; i + 2 < line.notes.size(); ++i) {
            const LineNote& note = line.notes[i];
            const LineNote& next = line.notes[i + 1];
            // A chord that is pushed off the grid is heeded by the nearest note.
            const ScaleSpan& span = sounding_at(ground, note.at);
            const bool is_pushed = note.at - span.at < kEighth && note.at != span.at;
            outside += has_note(span.notes, note.pitch) || is_pushed ? 0 : 1;
            const bool rests = sounding_at(ground, note.at + note.length).notes.empty();
            if (rests) continue;
            gaps += note.at + note.length == next.at ? 0 : 1;
            wide += apart(note.pitch, next.pitch) <= 4 ? 0 : 1;
            const int a = next.pitch.midi() - note.pitch.midi();
            const int b = line.notes[i + 2].pitch.midi() - next.pitch.midi();
            const bool in_middle =
                next.pitch.midi() - range.low.midi() > 4 && range.high.midi() - next.pitch.midi() > 4;
            turns += a * b < 0 && in_middle ? 1 : 0;
            ++notes;
        }
        CHECK(gaps == 0);
        CHECK(outside == 0);
        CHECK(wide == 0);
    });
    CHECK(turns > 0);
    CHECK(100 * turns <= 4 * notes);
}

TEST_CASE("targets are chord tones on the changes, and notes outside the scale go on by step", "[etude]") {
    for_each_case(Coverage::InTurn, [](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line =
            make_etude(ground, {.kind = "targets", .level = 3 + static_cast<int>(seed), .seed = seed}, range);
        int misses = 0;
        int stray = 0;
        std::size_t i = 0;
        for (const ScaleSpan& span : ground.spans) {
            if (span.notes.empty()) continue;
            while (i < line.notes.size() && line.notes[i].at < span.at) ++i;
            // A chord struck off the grid of eighths is met by the nearest note.
            if (!((span.at.whole_notes * Rational{8}).is_whole()) || span.length < kEighth) continue;
            const bool met = i < line.notes.size() && line.notes[i].at == span.at;
            misses += met && has_note(span.chord, line.notes[i].pitch) ? 0 : 1;
        }
        for (std::size_t k = 0; k + 1 < line.notes.size(); ++k) {
            const Pitch pitch = line.notes[k].pitch;
            if (has_note(sounding_at(ground, line.notes[k].at).notes, pitch) ||
                has_note(sounding_at(ground, line.notes[k].at).chord, pitch))
                continue;
            const bool next = apart(line.notes[k + 1].pitch, pitch) <= 2;
            const bool after = k + 2 < line.notes.size() && apart(line.notes[k + 2].pitch, pitch) <= 2;
            stray += next || after ? 0 : 1;
        }
        CHECK(misses == 0);
        CHECK(stray == 0);
    });
}

TEST_CASE("an enclosure has a note on each side of its target, two semitones away at most", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Fence\nKey: Eb\n| Fm7 | Bb7 | Ebmaj7 | C7 | Fm7 | Bb7 | Eb6 | Eb6 |\n", {.choruses = 8});
    const ConcertLine line =
        make_etude(tune, {.kind = "targets", .level = 3, .seed = 9, .explain = true}, test_ranges()[2].range);
    int enclosures = 0;
    for (const LineText& text : line.texts) {
        if (text.text != "enclosure") continue;
        const auto at = std::ranges::find(line.notes, text.at, &LineNote::at);
        REQUIRE(line.notes.end() - at > 2);
        const int a = at->pitch.midi() - (at + 2)->pitch.midi();
        const int b = (at + 1)->pitch.midi() - (at + 2)->pitch.midi();
        CHECK(a * b < 0);
        CHECK(std::abs(a) <= 2);
        CHECK(std::abs(b) <= 2);
        ++enclosures;
    }
    CHECK(enclosures >= 5);
}

TEST_CASE("an added-note line has chord tones on the beats and adds notes only off them", "[etude]") {
    // R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.9; the sixth stands for a major seventh.
    for_each_case(Coverage::InTurn, [](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line = make_etude(ground, {.kind = "added-note", .level = 5, .seed = seed}, range);
        int wrong = 0;
        int stray = 0;
        for (std::size_t i = 0; i < line.notes.size(); ++i) {
            const LineNote& note = line.notes[i];
            const ScaleSpan& span = sounding_at(ground, note.at);
            const auto bar = std::ranges::upper_bound(ground.bars, note.at, {}, &GroundBar::at) - 1;
            const Duration beat = bar->meter.is_compound() ? bar->meter.beat_length() : kQuarter;
            const bool in_scale = has_note(span.notes, note.pitch) || has_note(span.chord, note.pitch);
            if (((note.at - bar->at) / beat).is_whole()) {
                const int over = (note.pitch.midi() - span.symbol->root.semitone()) % 12;
                const bool sixth_or_seventh = over == 8 || over == 9 || over == 10;
                wrong += has_note(span.chord, note.pitch) || sixth_or_seventh ? 0 : 1;
                wrong += in_scale ? 0 : 1;
            } else if (!in_scale) {
                const bool resolves =
                    i + 1 < line.notes.size() && apart(line.notes[i + 1].pitch, note.pitch) == 1;
                stray += resolves ? 0 : 1;
            }
        }
        CHECK(wrong == 0);
        CHECK(stray == 0);
    });
}

TEST_CASE("a cell keeps its degrees over every chord", "[etude]") {
    const EtudeGround tune =
        ground_of_bars("Title: Tiles\nKey: C\n| Dm7 | G7 | Cmaj7 | A7 | Dm7b5 | G7 | Cm7 | F#m7 |\n");
    const std::array<int, 4> letters{0, 1, 2, 4};
    // The second degree of Locrian rubs: common practice, no source.
    const std::array<int, 4> of_half_diminished{0, 2, 3, 4};
    for (int level = 1; level <= kHighestLevel; ++level) {
        const ConcertLine line =
            make_etude(tune, {.kind = "cell", .level = level, .cell = "1 2 3 5"}, test_ranges()[4].range);
        const ScaleSpan* before = nullptr;
        std::size_t k = 0;
        for (const LineNote& note : line.notes) {
            const ScaleSpan& span = sounding_at(tune, note.at);
            if (&note == &line.notes.back()) break;  // to rest on
            if (&span != before || k == letters.size()) k = 0;
            before = &span;
            const bool is_half_diminished = span.symbol == parse_chord_symbol("Dm7b5");
            CHECK((note.pitch.name() - span.symbol->root).steps() ==
                  (is_half_diminished ? of_half_diminished : letters)[k]);
            CHECK((has_note(span.notes, note.pitch) || has_note(span.chord, note.pitch)));
            ++k;
        }
    }
}

TEST_CASE("two notes of an arpeggio over an altered dominant are its third and what is altered", "[etude]") {
    const EtudeGround tune =
        ground_of_bars("Title: Lamp\nKey: F minor\nMeter: 3/4\n| Bbm7 | Bbm7 Gm7b5 C7b9 | Fm6 | % |\n");
    for (const char* kind : {"arpeggios-up", "arpeggios-down"}) {
        CAPTURE(kind);
        const ConcertLine line = make_etude(tune, {.kind = kind, .level = 4}, test_ranges()[4].range);
        std::set<int> sounds;
        for (const LineNote& note : line.notes) {
            const ScaleSpan& span = sounding_at(tune, note.at);
            if (span.symbol == parse_chord_symbol("C7b9")) sounds.insert(note.pitch.midi() % 12);
        }
        CHECK(sounds == std::set<int>{1, 4});
    }
}

// A diminished seventh chord on G flat is read as G flat, A, C, E flat: common practice, no source.
TEST_CASE("a cell keeps its degrees where the chord is read under simpler names", "[etude]") {
    const EtudeGround tune =
        ground_of_bars("Title: Gate\nKey: Eb\nMeter: 4/4\n| Ebmaj7 Gbdim7 | Fm7 Bb7 | Ebmaj7 | % |\n");
    const ConcertLine line =
        make_etude(tune, {.kind = "cell", .level = 4, .cell = "1 2 3 5"}, test_ranges()[4].range);
    std::vector<int> above;
    for (std::size_t i = 4; i < 8; ++i)
        above.push_back(line.notes[i].pitch.midi() - line.notes[4].pitch.midi());
    CHECK(above == std::vector<int>{0, 2, 3, 6});
}

TEST_CASE("a cell moves as a whole, and begins on a beat where its chord is pushed", "[etude]") {
    // Every root, in a range that holds the cell twice at most.
    const EtudeGround roots = ground_of_bars(
        "Title: Roots\nKey: C\n| C6 | Db6 | D6 | Eb6 | E6 | F6 |\n| Gb6 | G6 | Ab6 | A6 | Bb6 | B6 |\n");
    for (int level = 1; level <= 3; ++level) {
        const ConcertLine line =
            make_etude(roots, {.kind = "cell", .level = level, .cell = "1 2 3 5"}, test_ranges()[0].range);
        for (const GroundBar& bar : roots.bars) {
            if (&bar == &roots.bars.back()) break;
            const auto first = std::ranges::lower_bound(line.notes, bar.at, {}, &LineNote::at);
            REQUIRE(line.notes.end() - first >= 4);
            INFO("level " << level << ", bar " << bar.number);
            for (int k = 1; k < 4; ++k) CHECK((first + k)->pitch.midi() > (first + k - 1)->pitch.midi());
        }
    }
    // Pushed by an eighth.
    const EtudeGround pushed = ground_of_bars("Title: Pushed\nKey: C\n| Dm7 | <G7 | Cmaj7 | A7 |\n");
    const ConcertLine line =
        make_etude(pushed, {.kind = "cell", .level = 4, .cell = "1 2 3 5"}, test_ranges()[0].range);
    const auto g7 = std::ranges::find(line.notes, Position{kWhole.whole_notes}, &LineNote::at);
    REQUIRE(g7 != line.notes.end());
    CHECK(to_string(g7->pitch.name()) == "G");
}

TEST_CASE("over many bars of one chord the cell climbs by its own notes; two bars are as they were",
          "[etude]") {
    const EtudeGround vamp = ground_of_bars(
        "Title: Vamp\nKey: D dorian\n| Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 |\n| G7 | G7 | Dm7 | "
        "Dm7 |\n");
    const std::set<int> letters{0, 1, 2, 4};
    for (const int level : {2, 3, 4}) {
        const ConcertLine line =
            make_etude(vamp, {.kind = "cell", .level = level, .cell = "1 2 3 5"}, test_ranges()[4].range);
        std::set<int> first_notes;
        std::vector<std::vector<int>> bars(vamp.bars.size());
        for (const LineNote& note : line.notes) {
            if (&note == &line.notes.back()) break;  // to rest on
            const ScaleSpan& span = sounding_at(vamp, note.at);
            CHECK(letters.contains((note.pitch.name() - span.symbol->root).steps()));
            bars[static_cast<std::size_t>(note.at.whole_notes.floor())].push_back(note.pitch.midi());
        }
        INFO("level " << level);
        for (std::size_t bar = 1; bar < 8; ++bar) {
            CHECK(bars[bar] != bars[bar - 1]);
            first_notes.insert(bars[bar].front());
        }
        // As far as the range of the level goes.
        CHECK(first_notes.size() >= (level == 4 ? 3U : 2U));
        CHECK(bars[8] == bars[9]);
    }
}

TEST_CASE("arpeggios begin on the root for who plays the bass", "[etude]") {
    const EtudeGround tune =
        ground_of_bars("Title: Roots\nKey: Cm\n| Cm6 | Fm7 | C7(#9) | Fm7 |\n| Ab7 | G7(b9) | Cm6 | Fm7 |\n");
    EtudeRequest request{.kind = "arpeggios-up", .level = 4, .seed = 3};
    request.handling.speeds = &speeds_of("pluck.bass");
    const ConcertLine line = make_etude(tune, request, test_ranges()[6].range);
    for (const ScaleSpan& span : tune.spans) {
        const auto first = std::ranges::lower_bound(line.notes, span.at, {}, &LineNote::at);
        REQUIRE(first != line.notes.end());
        CHECK(first->pitch.name().semitone() == span.symbol->root.semitone());
    }
}

TEST_CASE("upwards, no chord drops between two beats, and no bar of a vamp is said three times", "[etude]") {
    const EtudeGround vamp =
        ground_of_bars("Title: Vamp\nKey: D dorian\n| Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 | Dm7 |\n");
    for (int level = 2; level <= kHighestLevel; ++level) {
        for (std::uint64_t seed = 1; seed <= 5; ++seed) {
            INFO("level " << level << ", seed " << seed);
            const EtudeRequest request{.kind = "arpeggios-up", .level = level, .seed = seed};
            const ConcertLine line = make_etude(vamp, request, test_ranges()[1].range);
            std::map<std::vector<int>, int> times;
            std::vector<int> bar;
            for (std::size_t i = 0; i < line.notes.size(); ++i) {
                const LineNote& note = line.notes[i];
                const bool on_beat = (note.at.whole_notes * Rational{4}).is_whole();
                if (i > 0 && !on_beat) CHECK(note.pitch.midi() > line.notes[i - 1].pitch.midi());
                if (note.at.whole_notes.is_whole() && !bar.empty()) {
                    CHECK(++times[bar] <= 2);
                    bar.clear();
                }
                bar.push_back(note.pitch.midi());
            }
        }
    }
}

TEST_CASE("an arpeggio has the tone that its chord is named after", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Names\nKey: C\n| Dm11 | G13 | Cmaj7(#11) | A7sus4 A7 |\n| Dm11 | G13 | C6 | C6 |\n");
    for (const char* kind : {"arpeggios-up", "arpeggios-down", "arpeggio-waves"}) {
        for (int level = 1; level <= kHighestLevel; ++level) {
            const ConcertLine line = make_etude(tune, {.kind = kind, .level = level}, test_ranges()[1].range);
            const auto sounds = [&](std::size_t span, const char* name) {
                const ScaleSpan& chord = tune.spans[span];
                return std::ranges::any_of(line.notes, [&](const LineNote& note) {
                    return note.at >= chord.at && note.at < chord.at + chord.length &&
                           to_string(note.pitch.name()) == name;
                });
            };
            INFO(kind << " " << level);
            CHECK(sounds(0, "G"));
            CHECK(sounds(1, "E"));
            CHECK(sounds(2, "F#"));
            // Sus, then the plain dominant: the fourth, then the third.
            CHECK(sounds(3, "D"));
            CHECK(sounds(4, "C#"));
        }
    }
}

TEST_CASE("call and answer: two written bars, two bars of slashes", "[etude]") {
    const EtudeGround tune = ground_of_bars(
        "Title: Talk\nKey: C\n| Dm7 | G7 | Cmaj7 | A7 |\n| Dm7 | G7 | C6 | C6 |\n", {.choruses = 4});
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const ConcertLine line =
            make_etude(tune, {.kind = "call-and-answer", .seed = seed}, test_ranges()[0].range);
        check_line(tune, line, test_ranges()[0].range);
        // The last bar is written: a note to end on.
        REQUIRE(line.open.size() == 15);
        int calls = 0;
        for (std::size_t b = 0; b < tune.bars.size(); b += 4) {
            CHECK(line.open[b / 2].at == tune.bars[b + 2].at);
            const bool sounds = std::ranges::any_of(line.notes, [&](const LineNote& note) {
                return note.at >= tune.bars[b].at && note.at < tune.bars[b + 2].at;
            });
            calls += sounds ? 1 : 0;
        }
        CHECK(calls == 8);
    }
}

TEST_CASE("an arpeggio has the altered tones that its symbol names, in place of the root beside them",
          "[etude]") {
    struct Row {
        const char* symbol;
        int over;  // half steps over the root
        bool has_root;
    };
    for (const Row& row : {Row{"G7b9", 1, false}, Row{"G7#9", 3, false}, Row{"G7sus4b9", 1, false},
                           Row{"G7b13", 8, true}, Row{"Gmaj7#11", 6, true}}) {
        const EtudeGround ground =
            ground_of_bars(std::string{"Title: One\nKey: C\n| "} + row.symbol + " | % | Cmaj7 | % |\n");
        for (int level = 3; level <= kHighestLevel; ++level) {
            const ConcertLine line =
                make_etude(ground, {.kind = "arpeggios-up", .level = level}, test_ranges()[0].range);
            bool sounds = false;
            bool has_root = false;
            for (const LineNote& note : line.notes) {
                if (note.at >= ground.bars[2].at) break;
                const int over = (note.pitch.midi() + 12 - 7) % 12;
                sounds = sounds || over == row.over;
                has_root = has_root || over == 0;
            }
            INFO(row.symbol << " level " << level);
            CHECK(sounds);
            CHECK(has_root == row.has_root);
        }
    }
}

// Common practice, no source: the ear hears the chord by the note that it comes with.
TEST_CASE("an unbroken line meets most chords on one of their tones", "[etude]") {
    int met = 0;
    int missed = 0;
    for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
        const ConcertLine line =
            make_etude(ground, {.kind = "unbroken-scale", .level = 4, .seed = seed}, range);
        for (const ScaleSpan& span : ground.spans) {
            const auto note = std::ranges::find(line.notes, span.at, &LineNote::at);
            if (!span.symbol || span.length < kHalf || note == line.notes.end()) continue;
            ++(holds(facts_of(*span.symbol).tones, note->pitch.midi()) ? met : missed);
        }
    });
    CHECK(met > 5 * missed);
}

TEST_CASE("the second time through bars of a tune each chord has its other guide tone", "[etude]") {
    const EtudeGround ground = ground_of_bars("Title: Four\nKey: C\n| Dm7 | G7 | Cmaj7 | Am7 |\n",
                                              {.bars = std::pair{1, 4}, .choruses = 2});
    const ConcertLine line =
        make_etude(ground, {.kind = "guide-tones", .level = 1, .choruses = 2, .bars = std::pair{1, 4}},
                   test_ranges()[0].range);
    REQUIRE(line.notes.size() == 8);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK((line.notes[i].pitch.midi() - line.notes[i + 4].pitch.midi()) % 12 != 0);
}

TEST_CASE("a composed line has no values that its instrument cannot keep up with at the tempo", "[etude]") {
    const EtudeGround ground =
        ground_of_bars("Title: Quick\nKey: C\n| Dm7 | G7 | Cmaj7 | Am7 |\n| Dm7 | G7 | C6 | % |\n");
    const auto shortest = [&](double fastest) {
        Duration out = kWhole;
        for (std::uint64_t seed = 1; seed <= 12; ++seed) {
            EtudeRequest request{.kind = "composed", .level = 6, .seed = seed, .tempo = 150};
            request.handling.fastest = fastest;
            for (const LineNote& note : make_etude(ground, request, test_ranges()[0].range).notes)
                out = std::min(out, note.length);
        }
        return out;
    };
    CHECK(shortest(0) < kEighth);
    CHECK(shortest(5) >= kEighth);
}

}  // namespace shedbook
