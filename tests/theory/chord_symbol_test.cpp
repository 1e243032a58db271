#include "shedbook/theory/chord_symbol.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "theory/typed_chord.h"

namespace shedbook {
namespace {

std::string notes(std::string_view text) {
    std::string out;
    for (const PitchClass note : chord_notes(chord(text))) out += (out.empty() ? "" : " ") + to_string(note);
    return out;
}

std::string degrees(const std::vector<ChordTone>& tones) {
    std::string out;
    for (const ChordTone& tone : tones) out += (out.empty() ? "" : " ") + degree_name(tone.above_root);
    return out;
}

struct Row {
    std::string_view symbol;
    std::string_view expected;
};

}  // namespace

TEST_CASE("a symbol is read, printed and spelled as its header says", "[theory][chord]") {
    Diagnostics diagnostics;
    const auto symbol = read_chord_symbol(SourceText{"input", "Bb7(#9,#11)"}, diagnostics);
    REQUIRE(symbol);
    CHECK(to_string(*symbol) == "Bb7(#9,#11)");
    CHECK(notes("Bb7(#9,#11)") == "Bb D F Ab C# E");
    CHECK(diagnostics.all().empty());
}

TEST_CASE("every chord kind has an id, a name, a suffix and tones of its own", "[theory][chord]") {
    std::set<std::string_view> ids;
    std::set<std::string_view> names;
    std::set<std::string_view> suffixes;
    std::set<unsigned> tones_seen;
    for (const ChordKind& kind : chord_kinds()) {
        INFO(kind.id);
        CHECK(ids.insert(kind.id).second);
        CHECK(names.insert(kind.name).second);
        CHECK(suffixes.insert(kind.suffix).second);
        // C9sus4 and C11 sound alike and are written differently.
        const ChordSymbol symbol{kC, &kind, {}, {}};
        if (kind.id != "ninth_suspended_fourth") CHECK(tones_seen.insert(pitch_set(symbol)).second);
        CHECK(find_chord_kind(kind.id) == &kind);
        CHECK(kind.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") == std::string_view::npos);
    }
    CHECK(find_chord_kind("no_such_kind") == nullptr);
}

TEST_CASE("the degrees of every chord kind begin on the root, have letters that rise and are read back",
          "[theory][chord]") {
    for (const ChordKind& kind : chord_kinds()) {
        INFO(kind.id);
        const auto intervals = kind.intervals();
        REQUIRE(intervals.size() >= 2);
        CHECK(intervals.front() == kUnison);
        CHECK(std::ranges::is_sorted(intervals, {}, &Interval::steps));
        std::string names;
        for (const Interval interval : intervals) names += (names.empty() ? "" : " ") + degree_name(interval);
        CHECK(names == kind.degrees);
        const ChordSymbol symbol{kC, &kind, {}, {}};
        CHECK(degrees(tones(symbol)).size() == kind.degrees.size());
        CHECK(family(symbol) == kind.family);
    }
}

TEST_CASE("the name of every chord kind can be typed in words behind the root", "[theory][chord]") {
    for (const ChordKind& kind : chord_kinds()) {
        INFO(kind.name);
        const auto symbol = parse_chord_symbol("C " + std::string{kind.name});
        REQUIRE(symbol);
        CHECK(symbol->kind == &kind);
    }
}

// MusicXML 4.0, kind-value; an 11th or 13th holds all lower degrees.
TEST_CASE("kinds sound as the MusicXML standard defines them, counting what players leave out",
          "[theory][chord]") {
    const Row rows[] = {
        {"C", "1 3 5"},
        {"Cm", "1 b3 5"},
        {"C+", "1 3 #5"},
        {"Cdim", "1 b3 b5"},
        {"C7", "1 3 5 b7"},
        {"Cmaj7", "1 3 5 7"},
        {"Cm7", "1 b3 5 b7"},
        {"Cdim7", "1 b3 b5 bb7"},
        {"C+7", "1 3 #5 b7"},
        {"Cm7b5", "1 b3 b5 b7"},
        {"Cm(maj7)", "1 b3 5 7"},
        {"C6", "1 3 5 6"},
        {"Cm6", "1 b3 5 6"},
        {"C9", "1 3 5 b7 9"},
        {"Cmaj9", "1 3 5 7 9"},
        {"Cm9", "1 b3 5 b7 9"},
        {"C11", "1 3 5 b7 9 11"},
        {"Cmaj11", "1 3 5 7 9 11"},
        {"Cm11", "1 b3 5 b7 9 11"},
        {"C13", "1 3 5 b7 9 11 13"},
        {"Cmaj13", "1 3 5 7 9 11 13"},
        {"Cm13", "1 b3 5 b7 9 11 13"},
        {"Csus2", "1 2 5"},
        {"Csus4", "1 4 5"},
        {"C5", "1 5"},
    };
    for (const Row& row : rows) {
        INFO(row.symbol);
        const ChordSymbol symbol = chord(row.symbol);
        std::vector<ChordTone> all = tones(symbol);
        std::ranges::copy(optional_tones(symbol), std::back_inserter(all));
        std::ranges::sort(all, {}, [](const ChordTone& tone) { return tone.above_root.semitones(); });
        CHECK(degrees(all) == row.expected);
    }
}

// Hutchinson, Music Theory for the 21st-Century Classroom, 31.1 to 31.3; what stands in no book is marked.
TEST_CASE("chords hold the tones that the textbook gives their symbols", "[theory][chord]") {
    const Row rows[] = {
        {"C9", "1 3 5 b7 9"},             // 31.1: 9, 11 and 13 imply the lower ones
        {"Cm11", "1 b3 5 b7 9 11"},       // 31.1
        {"C13", "1 3 5 b7 9 13"},         // 31.1: the 11 against the third is left out
        {"C11", "1 5 b7 9 11"},           // common practice, no source: the third gives way to the 11
        {"Cmaj9", "1 3 5 7 9"},           // 31.1: "maj" speaks of the seventh
        {"C6/9", "1 3 5 6 9"},            // 31.2
        {"C7(add13)", "1 3 5 b7 13"},     // 31.2: beside a seventh a sixth is a 13
        {"C9sus4", "1 4 5 b7 9"},         // 31.2: "sus" has no third
        {"C7(b13)", "1 3 5 b7 b13"},      // 31.3: b13 keeps the fifth
        {"C7(#5)", "1 3 #5 b7"},          // 31.3: #5 does not
        {"C7(b9,#9)", "1 3 5 b7 b9 #9"},  // 31.3
        {"C7alt", "1 3 b7"},              // 31.3: "alt" does not say which
        {"Cdim7", "1 b3 b5 bb7"},         // 31.1
    };
    for (const Row& row : rows) {
        INFO(row.symbol);
        CHECK(degrees(tones(chord(row.symbol))) == row.expected);
    }
}

TEST_CASE("different spellings of one chord are equal", "[theory][chord]") {
    const std::vector<std::vector<std::string_view>> same = {
        {"C+7", "C7(#5)", "C7#5", "C7+5", "C7+", "Caug7", "C7aug", "C7aug5"},
        {"Cm7b5", "Cm7(b5)", "C\u00F8", "C\u00D87", "C-7b5", "Cmin7-5", "Chalf-dim", "C half-diminished"},
        {"C9", "C7(9)", "C7add9", "Cdom9", "C 9"},
        {"C13", "C7(13)", "C7(9,13)", "C9(add13)", "C9(13)"},
        {"C7sus4", "C7sus", "Csus7", "Csus4(7)", "C7(sus4)", "Cm7sus4", "C7suspended"},
        {"Cmaj7", "CM7", "CMA7", "Cma7", "C\u0394", "C\u25B37", "C\u22067", "Cj7", "C7M", "Cmajor7", "C^7",
         "C Maj 7"},
        {"Cm(maj7)", "CmM7", "C-\u0394", "Cmin(maj7)", "Cmi(ma7)", "Cm/maj7", "Cm(#7)", "Cm+7",
         "C minor major seventh"},
        {"Cdim", "C\u00B0", "C\u00BA", "Co", "Cm(b5)", "Cmb5", "Cdiminished"},
        {"Cdim7", "C\u00B07", "Co7", "Cm6(b5)", "Cdim(bb7)", "Cdim6"},
        {"C+", "Caug", "C(#5)", "C+5", "Cmaj#5"},
        {"C6/9", "C69", "C6(9)", "C6add9", "C(6,9)", "C9/6", "C6 9", "Cmaj69"},
        {"C6", "Cadd6", "C(add13)", "CM6", "C(6)"},
        {"C5", "C(no3)", "Cm(no3)", "Cpower"},
        {"C7(b9,#11)", "C7#11b9", "C7(#11)(b9)", "C7 b9 #11", "C7[b9,#11]", "C7-9+11", "C7(b9/#11)",
         "C7b9(#11)"},
        {"C7alt", "Calt", "Caltered", "C7(alt)", "Calt7", "C7 alt."},
        {"C(add9)", "Cadd9", "C/9", "C(9)", "C add 9", "C9(no7)"},
        {"C13sus4(b9)", "C13b9sus", "C7sus4(b9,13)", "C13sus(b9)"},
        {"C", "CM", "Cmaj", "C/C", "C major"},
    };
    for (const auto& spellings : same) {
        const ChordSymbol first = chord(spellings.front());
        CHECK(to_string(first) == spellings.front());
        for (const std::string_view spelling : spellings) {
            INFO(spelling);
            CHECK(chord(spelling) == first);
        }
    }
}

TEST_CASE("chords that differ are not equal", "[theory][chord]") {
    const std::pair<std::string_view, std::string_view> different[] = {
        {"C7(#5)", "C7(b13)"},
        {"C7(b5)", "C7(#11)"},
        {"C7(add13)", "C13"},
        {"C(add9)", "C9"},
        {"C(add2)", "C(add9)"},
        {"C(add4)", "C(add11)"},
        {"Cdim", "Cdim7"},
        {"Cm7b5", "Cdim7"},
        {"C/E", "C"},
        {"C/E", "C/G"},
        {"C#", "Db"},
        {"C6", "Am7/C"},
        {"C7alt", "C7(#5,#9)"},
        {"C9sus4", "C11"},
        {"Cmaj7(#11)", "Cmaj7(b5)"},
        {"C7sus4(add13)", "C13sus4"},
    };
    for (const auto& [a, b] : different) {
        INFO(a << " and " << b);
        CHECK(chord(a) != chord(b));
    }
}

// The letters of thirds and sevenths stand; H31.1, "Enharmonic respelling", for the rest.
TEST_CASE("chord notes are spelled by degree, without double accidentals where a scale has none",
          "[theory][chord]") {
    const Row rows[] = {
        {"Cdim7", "C Eb Gb A"},      {"Ebdim7", "Eb Gb A C"},       {"G#dim7", "G# B D F"},
        {"F#m7b5", "F# A C E"},      {"Ebm7b5", "Eb Gb Bbb Db"},    {"Abm7", "Ab Cb Eb Gb"},
        {"C#7", "C# E# G# B"},       {"G#7", "G# B# D# F#"},        {"D#7", "D# F## A# C#"},
        {"Db7(b9)", "Db F Ab Cb D"}, {"B7(#9)", "B D# F# A D"},     {"A7(#9)", "A C# E G B#"},
        {"Db7(b5)", "Db F G Cb"},    {"Gb7(b13)", "Gb Bb Db Fb D"}, {"E7(#5,#9)", "E G# B# D G"},
        {"C13", "C E G Bb D A"},     {"C11", "C G Bb D F"},         {"C7sus4", "C F G Bb"},
        {"C(add2)", "C D E G"},      {"C6/9", "C E G A D"},         {"Bb7(#9,#11)", "Bb D F Ab C# E"},
        {"C7alt", "C E Bb"},         {"F##m", "F## A# C##"},        {"Dm7/G", "D F A C"},
    };
    for (const Row& row : rows) {
        INFO(row.symbol);
        CHECK(notes(row.symbol) == row.expected);
    }
}

TEST_CASE("the family of a chord follows from its tones", "[theory][chord]") {
    using F = ChordFamily;
    const std::pair<std::string_view, F> rows[] = {
        {"C6/9", F::Major},
        {"Cmaj7(#5)", F::Major},
        {"C(add9)", F::Major},
        {"Cm(maj7)", F::Minor},
        {"Cm7(#5)", F::Minor},
        {"C7alt", F::Dominant},
        {"C7(b5)", F::Dominant},
        {"C+7", F::Dominant},
        {"C7(no3)", F::Dominant},
        {"Cm9(b5)", F::HalfDiminished},
        {"Cm11b5", F::HalfDiminished},
        {"Cdim7", F::Diminished},
        {"Cm(b5)", F::Diminished},
        {"Cdim(maj7)", F::Diminished},
        {"C(#5)", F::Augmented},
        {"C+(add9)", F::Augmented},
        {"C13sus4", F::Suspended},
        {"C11", F::Suspended},
        {"Csus2", F::Suspended},
        {"C5", F::Power},
        {"C5(add9)", F::Power},
        {"Cmaj7(no3)", F::Major},
    };
    for (const auto& [symbol, expected] : rows) {
        INFO(symbol);
        CHECK(family(chord(symbol)) == expected);
    }
}

TEST_CASE("an altered dominant has root, third and seventh, and what was said beside", "[theory][chord]") {
    const ChordSymbol plain = chord("G7alt");
    CHECK(plain.kind == find_chord_kind("altered_seventh"));
    CHECK(degrees(tones(plain)) == "1 3 b7");
    CHECK(degrees(tones(chord("G7alt(b9)"))) == "1 3 b7 b9");
    CHECK(degrees(tones(chord("G+7alt"))) == "1 3 #5 b7");
    CHECK(to_string(chord("G7b9alt")) == "G7alt(b9)");
    CHECK_FALSE(parse_chord_symbol("G7alt(13)"));
    CHECK_FALSE(parse_chord_symbol("G9alt"));
    CHECK_FALSE(parse_chord_symbol("Gmalt"));
}

TEST_CASE("optional tones are the eleventh of a thirteenth and the third of a dominant eleventh",
          "[theory][chord]") {
    const Row rows[] = {
        {"C13", "11"},    {"Cmaj13", "11"}, {"C13(b9)", "11"}, {"C11", "3"},
        {"C11(b9)", "3"}, {"C13(#11)", ""}, {"Cm13", ""},      {"C13sus4", ""},
        {"C9", ""},       {"Cmaj11", ""},   {"Cm11", ""},      {"C7(b13)", ""},
    };
    for (const Row& row : rows) {
        INFO(row.symbol);
        const ChordSymbol symbol = chord(row.symbol);
        CHECK(degrees(optional_tones(symbol)) == row.expected);
        CHECK((full_pitch_set(symbol) == pitch_set(symbol)) == row.expected.empty());
    }
}

TEST_CASE("pitch sets and has_tone count half steps over the root", "[theory][chord]") {
    const ChordSymbol symbol = chord("F7(#9)/A");
    CHECK(pitch_set(symbol) == (1U | 1U << 3 | 1U << 4 | 1U << 7 | 1U << 10));
    CHECK(has_tone(symbol, 10));
    CHECK(has_tone(symbol, 15));
    CHECK(has_tone(symbol, -2));
    CHECK_FALSE(has_tone(symbol, 11));
}

TEST_CASE("transposing moves root and bass and brings the chord back", "[theory][chord]") {
    const Interval up_a_sixth{5, 9};
    for (const std::string_view text : {"Bb7(#9)", "Dm7/G", "F#m7b5/E", "C7alt", "Ebmaj7(#11)/F"}) {
        const ChordSymbol symbol = chord(text);
        const ChordSymbol moved = transposed(symbol, up_a_sixth);
        CHECK(transposed(moved, -up_a_sixth) == symbol);
        CHECK(pitch_set(moved) == pitch_set(symbol));
    }
    CHECK(to_string(transposed(chord("Dm7/G"), up_a_sixth)) == "Bm7/E");
    CHECK(to_string(transposed(chord("Bb7(b9)"), kMajorSecond)) == "C7(b9)");
}

TEST_CASE("no chord is said in several ways and is no chord symbol", "[theory][chord]") {
    for (const std::string_view text :
         {"N.C.", "NC", "n.c.", "nc", "N.C", "N. C.", "N/C", "No Chord", "no chord"}) {
        INFO(text);
        CHECK(is_no_chord(text));
        CHECK_FALSE(parse_chord_symbol(text));
    }
    for (const std::string_view text : {"", "N", "C", "NCC", "no chords today", "Cm", "n.c.7", "."}) {
        INFO(text);
        CHECK_FALSE(is_no_chord(text));
    }
}

TEST_CASE("a symbol in a part has no double accidental in its root or bass", "[theory]") {
    const ChordSymbol symbol = *parse_chord_symbol("A#7/B#");
    const ChordSymbol written = written_symbol(symbol, Interval{5, 9});
    CHECK(to_string(written.root) == "G");
    CHECK(to_string(*written.bass) == "A");
}

}  // namespace shedbook
