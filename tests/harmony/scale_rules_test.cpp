// The rows of the chord-scale table, each with its source: H31.10 is R. Hutchinson, Music Theory for the
// 21st-Century Classroom, ch. 31.10 "List of Chord-Scale Relationships"; WJD what was counted in the solos of
// the Weimar Jazz Database; CP common practice, no source. docs/harmony.md tells which rows contradict each
// other.
#include "scale_rules.h"

#include <set>
#include <string_view>

#include "analysed.h"
#include "judgement.h"
#include "scale_choice.h"
#include "scale_uses.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Half steps of the scale over the root of the chord.
unsigned over_root_of(const ChordSymbol& chord, const Scale& scale) {
    unsigned out = 0;
    for (const PitchClass note : spelled(scale)) out |= bit(above(note.semitone(), chord.root.semitone()));
    return out;
}

struct Case {
    std::string_view source;
    std::string_view bars;
    std::size_t chord;  // which of them
    std::string_view scale;
};

constexpr Case kCases[]{
    {"1 H31.10: Imaj7", "| Cmaj7 | Am7 | Dm7 G7 | Cmaj7 |", 0, "ionian"},
    {"1 H31.10: I6", "| Dm7 | G7 | C6 | % |", 2, "ionian"},
    {"2 H31.10: IVmaj7", "| Cmaj7 | Fmaj7 | Dm7 G7 | Cmaj7 |", 1, "lydian"},
    {"2 H31.10: bVImaj7 borrowed", "| Cmaj7 | Abmaj7 | Dm7 G7 | Cmaj7 |", 1, "lydian"},
    {"3 H31.10: maj7#11", "| Cmaj7(#11) | Dm7 | G7 | Cmaj7 |", 0, "lydian"},
    {"4 H31.10: maj7#5", "| Cmaj7(#5) | Dm7 | G7 | Cmaj7 |", 0, "lydian_augmented"},
    {"6 H31.10: ii", "| Dm7 | G7 | Cmaj7 | % |", 0, "dorian"},
    {"7 WJD: iii, the 9 natural", "| Cmaj7 | Em7 | Fmaj7 | G7 | Cmaj7 | % |", 1, "aeolian"},
    {"8 H31.10, its own example: Fm7 as vi of Ab", "| Abmaj7 | Fm7 | Bbm7 | Eb7 | Abmaj7 | % |", 1,
     "aeolian"},
    {"9 H31.10: i of minor", "| Cm7 | Dm7b5 G7 | Cm7 | % |", 0, "dorian"},
    {"10 H31.10: m6", "| Cm6 | Dm7b5 G7 | Cm6 | % |", 0, "melodic_minor"},
    {"11 H31.10: m(maj7)", "| Cm(maj7) | Dm7b5 G7 | Cm(maj7) | % |", 0, "melodic_minor"},
    {"12 WJD: iv7 in major", "| Cmaj7 | Fmaj7 | Fm7 | Cmaj7 | Dm7 G7 | Cmaj7 |", 2, "dorian"},
    {"12 CP: iv6 in major", "| Cmaj7 | Fmaj7 | Fm6 | Cmaj7 | Dm7 G7 | Cmaj7 |", 2, "melodic_minor"},
    {"13 H31.10: ii of minor", "| Dm7b5 | G7 | Cm6 | % |", 0, "locrian"},
    {"13 H31.10: m9b5", "| Dm9b5 | G7 | Cm6 | % |", 0, "locrian_natural_2"},
    {"14 CP: #iv half-diminished", "| Cmaj7 | F#m7b5 | Fm6 | Cmaj7 | Dm7 G7 | Cmaj7 |", 1, "locrian"},
    {"15 H31.10: V7 to major", "| Dm7 | G7 | Cmaj7 | % |", 1, "mixolydian"},
    {"16 WJD: V7 to minor", "| Dm7b5 | G7 | Cm7 | % |", 1, "phrygian_dominant"},
    {"16 WJD: V7/vi", "| Cmaj7 | E7 | Am7 | Dm7 G7 | Cmaj7 | % |", 1, "phrygian_dominant"},
    {"16b rule 2: V7/ii", "| Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |", 1, "mixolydian_b6"},
    {"17 WJD: V7/V", "| Cmaj7 | D7 | G7 | % | Cmaj7 | % |", 1, "mixolydian"},
    {"17 rule 2: V7/V in minor", "| Cm6 | D7 | G7 | % | Cm6 | % |", 1, "lydian_dominant"},
    {"18 WJD: 7b9 to minor", "| Dm7b5 | G7b9 | Cm7 | % |", 1, "phrygian_dominant"},
    {"19 H31.10: 7b9 to major", "| Dm7 | G7b9 | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"19 H31.10: 13b9", "| Dm7 | G13b9 | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"19 H31.10: 7b9 that stays", "| G7b9 | % | % | % | % | % | Cm7 | % |", 0, "half_whole_diminished"},
    {"20 WJD: 7#9 to minor", "| Dm7b5 | G7#9 | Cm7 | % |", 1, "altered"},
    {"20b H31.10: 7#9 that leads nowhere", "| E7#9 | % | % | % |", 0, "half_whole_diminished"},
    {"21 H31.3: 7b13 keeps its 5", "| Dm7b5 | G7b13 | Cm7 | % |", 1, "mixolydian_b6"},
    {"22 calc: 7b9b13 keeps its 5", "| Dm7b5 | G7(b9,b13) | Cm7 | % |", 1, "phrygian_dominant"},
    {"23 H31.10: 7alt", "| Dm7 | G7alt | Cmaj7 | % |", 1, "altered"},
    {"23 H31.10: 7#5#9", "| Dm7 | G7(#5,#9) | Cmaj7 | % |", 1, "altered"},
    {"24 H31.10: 7#5 to major", "| Dm7 | G7#5 | Cmaj7 | % |", 1, "whole_tone"},
    {"24 WJD: 7#5 to minor", "| Dm7b5 | G7#5 | Cm7 | % |", 1, "altered"},
    {"25 CP: 7b5", "| Dm7 | G7b5 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"26 H31.10: 7#11", "| Dm7 | G7#11 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"27 WJD: substitute", "| Dm7 | Db7 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"28 CP: backdoor", "| Cmaj7 | Fm7 | Bb7 | Cmaj7 | Dm7 G7 | Cmaj7 |", 2, "lydian_dominant"},
    {"29 H31.9: blues I7", "| C7 | F7 | C7 | % | F7 | % | C7 | % | G7 | F7 | C7 | G7 |", 0, "mixolydian"},
    {"30 H31.9: blues IV7", "| C7 | F7 | C7 | % | F7 | % | C7 | % | G7 | F7 | C7 | G7 |", 1, "mixolydian"},
    {"31 WJD: blues V7", "| C7 | F7 | C7 | % | F7 | % | C7 | % | G7 | F7 | C7 | G7 |", 5, "mixolydian"},
    {"32 H31.2: 7sus4", "| Dm7 | G7sus4 | Cmaj7 | % |", 1, "mixolydian"},
    {"33 calc: 13sus4b9", "| G13sus4(b9) | % | Cm6 | % |", 0, "dorian_b2"},
    {"34 WJD: dim7 rising", "| Cmaj7 | C#dim7 | Dm7 | G7 | Cmaj7 | % |", 1, "ultra_locrian"},
    {"35 H31.10: dim7 falling", "| Cmaj7 | Ebdim7 | Dm7 | G7 | Cmaj7 | % |", 1, "whole_half_diminished"},
    {"36 H31.10: dim7 on the same root", "| Cmaj7 | Cdim7 | Cmaj7 | G7 | Cmaj7 | % |", 1,
     "whole_half_diminished"},
    {"37 H31.10: augmented triad", "| C | Caug | F | G7 | C | % |", 1, "whole_tone"},
    {"38 CP: inversion", "| C/E | F | G7 | C | C/G | C |", 0, "ionian"},
    {"43 CP: diminished triad, ii of minor", "| Am | Bdim | E7 | Am | Bdim E7 | Am |", 1, "locrian"},
    {"44 CP: bVI7", "| Cmaj7 | Ab7 | G7 | Cmaj7 | Dm7 G7 | Cmaj7 |", 1, "lydian_dominant"},
    {"45 CP: IV7 outside a blues", "| Cmaj7 | F7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"46 H31.10: related ii", "| Cmaj7 | Gm7 | C7 | Fmaj7 | Dm7 G7 | Cmaj7 |", 1, "dorian"},
    {"46 rule 2: related ii with the key's b6", "| Cmaj7 | Em7 | A7 | Dm7 | G7 | Cmaj7 |", 1, "aeolian"},
    {"47 CP: v minor in minor", "| Am7 | Em7 | Dm7 | Am7 | Bm7b5 E7 | Am7 |", 1, "aeolian"},
    {"48 CP: add9 on I", "| Cadd9 | Fmaj7 | G7 | Cadd9 |", 0, "ionian"},
    {"49 calc: m7#5", "| Em7#5 | % | Em7 | % |", 0, "aeolian"},
    {"23 H31.10: #9 and b13", "| Dm7b5 | G7(#9,b13) | Cm7 | % |", 1, "altered"},
    {"19 H31.10: 13#9", "| Dm7 | G13#9 | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"26 H31.10: b9 and #11", "| Dm7 | G7(b9,#11) | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"26 H31.10: #9 and #11", "| Dm7 | G7(#9,#11) | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"18 WJD: V7b9 of minor that goes elsewhere", "| Am7 | E7b9 | Dm7 | Am7 | Bm7b5 E7 | Am7 |", 1,
     "phrygian_dominant"},
    {"20 WJD: V7#9 of minor that goes elsewhere", "| Am7 | E7#9 | Dm7 | Am7 | Bm7b5 E7 | Am7 |", 1,
     "altered"},
    {"24 WJD: V7#5 of minor that goes elsewhere", "| Am7 | E7#5 | Dm7 | Am7 | Bm7b5 E7 | Am7 |", 1,
     "altered"},
    {"20 H31.10: V7#9 to major", "| Dm7 | G7#9 | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"20b H31.10: substitute with #9", "| Dm7 | Db7#9 | Cmaj7 | % |", 1, "half_whole_diminished"},
    {"27 WJD: chromatic dominants", "| E7 | Eb7 | D7 | Db7 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"15 H31.10: V7/IV", "| Cmaj7 | C7 | Fmaj7 | G7 | Cmaj7 | % |", 1, "mixolydian"},
    {"15 CP: V7 to an open fifth", "| Cmaj7 | Dm7 | G7 | C5 | Cmaj7 | % |", 2, "mixolydian"},
    {"16 CP: V7 of minor that goes elsewhere", "| Am7 | E7 | Dm7 | Am7 | Bm7b5 E7 | Am7 |", 1,
     "phrygian_dominant"},
    {"16 CP: V7 after a half-diminished ii that goes elsewhere",
     "| Amaj7 | F#m7 | Bm7b5 E7 | Gm7/C C7 | Fmaj7 | % | Gm7 C7 | Fmaj7 |", 3, "phrygian_dominant"},
    {"15 CP: V7 that goes elsewhere", "| Cmaj7 | G7 | Am7 | Dm7 | G7 | Cmaj7 |", 1, "mixolydian"},
    {"44 MH: bVI7 to I", "| Cmaj7 | Ab7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"45 rule 2: IV7 in minor", "| Cm7 | F7 | Cm7 | Dm7b5 G7 | Cm7 | % |", 1, "mixolydian"},
    {"27 rule 2: bII7 in minor that does not fall", "| Fm6 | Dbmaj7 Gb7 | Gm7b5 C7b9 | Fm6 |", 2,
     "lydian_dominant"},
    {"13 H31.10: half-diminished ii of a major key", "| Cmaj7 | Am7 | Dm7b5 G7 | Cmaj7 |", 2, "locrian"},
    {"28 rule 2: bVII7 in minor", "| Am7 | G7 | Am7 | Bm7b5 E7 | Am7 | % |", 1, "mixolydian"},
    {"28 MH: bIII7 in major", "| Cmaj7 | Eb7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "lydian_dominant"},
    {"29 H31.3: I7 that rests outside a blues", "| Am7 | Dm7 | A7 | Fmaj7 | Bm7b5 E7 | Am7 |", 2,
     "mixolydian"},
    {"15 CP: a dominant that leads nowhere", "| Cmaj7 | F#7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "mixolydian"},
    {"50 calc: m(maj7) with b13", "| Cm(maj7,b13) | Dm7b5 G7 | Cm6 | % |", 0, "harmonic_minor"},
    {"7 calc: m7b9", "| Cmaj7 | Em7(b9) | Fmaj7 | G7 | Cmaj7 | % |", 1, "phrygian"},
    {"9 rule 2: i between bVI and bVII", "| Am | F | G | Am | F | G | Am | % |", 0, "aeolian"},
    {"6 CP: iv of minor", "| Am7 | Dm7 | Am7 | Bm7b5 E7 | Am7 | % |", 1, "dorian"},
    {"47 CP: v minor in major", "| Cmaj7 | Gm7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "dorian"},
    {"6 H31.10: a minor chord by itself", "| Cmaj7 | Ebm7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "dorian"},
    {"14 H31.10: vii half-diminished", "| Cmaj7 | Bm7b5 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "locrian"},
    {"35 CP: dim7 from IV back to I", "| C7 | F7 | C7 | % | F7 | F#dim7 | C7 | % | G7 | F7 | C7 | G7 |", 4,
     "whole_half_diminished"},
    {"35 H31.10: dim7 by itself", "| Cmaj7 | F#dim7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1,
     "whole_half_diminished"},
    {"32 CP: maj7sus4", "| Cmaj7sus4 | Cmaj7 | Dm7 G7 | Cmaj7 |", 0, "ionian"},
    {"32 CP: sus4 on i", "| Am | Asus4 | Am | Bm7b5 E7 | Am | % |", 1, "dorian"},
    {"3 calc: maj7#9", "| Cmaj7(#9) | Dm7 | G7 | Cmaj7 |", 0, "lydian_sharp_2"},
    {"16 CP: V as a triad in minor", "| Am | E | F | Am | Bm7b5 E7 | Am |", 1, "phrygian_dominant"},
    {"15 CP: V as a triad in major", "| C | G | Am | F | C | % |", 1, "mixolydian"},
    {"18 WJD: V7b9 to major after a half-diminished ii", "| Dm7b5 | G7b9 | Cmaj7 | % |", 1,
     "phrygian_dominant"},
    {"16 CP: V7 to major after a half-diminished ii", "| Dm7b5 | G7 | Cmaj7 | % |", 1, "phrygian_dominant"},
    {"6 H31.10: ii of minor with a natural fifth", "| Am7 | Bm7 | E7 | Am7 |", 1, "dorian"},
    {"32 CP: sus4 on I", "| C | Csus4 | C | F G7 | C | % |", 1, "ionian"},
    {"2 H31.10: bVImaj7 of minor", "| Am7 | Fmaj7 | Am7 | Bm7b5 E7 | Am7 | % |", 1, "lydian"},
    {"2 CP: bIIImaj7 in minor", "| Am7 | Cmaj7 | Am7 | Bm7b5 E7 | Am7 | % |", 1, "ionian"},
    {"15 CP: bVII as a triad in minor", "| Am | G | Am | E7 | Am | % |", 1, "mixolydian"},
    {"1 CP: a major chord from outside", "| Cmaj7 | Emaj7 | Cmaj7 | Dm7 G7 | Cmaj7 | % |", 1, "lydian"},
    {"41 CP: open fifth on i", "| Am | A5 | Am | E7 | Am | % |", 1, "aeolian"},
    {"41 CP: open fifth on ii", "| C | D5 | G7 | C | Dm7 G7 | C |", 1, "aeolian"},
    {"41 CP: open fifth on V", "| C | G5 | C | F G7 | C | % |", 1, "mixolydian"},
    {"41 CP: open fifth on I", "| C | C5 | C | F G7 | C | % |", 1, "ionian"},
};

// The row that decides for a written chord.
const ScaleRow& row_of(const Analysed& tune, std::size_t chord) {
    const ChordViews views = view_of(tune.chart, tune.timeline);
    const Judgement judged = judge(views.chords, tune.chart.key, Said::Hint);
    std::size_t at = 0;
    while (tune.timeline.chords.at(static_cast<std::size_t>(views.span_of.at(at))).inst != tune[chord].inst)
        ++at;
    return row_for(judged.roles[at], views.chords[at]);
}

}  // namespace

TEST_CASE("every row of the chord-scale table has a case that shows it at work", "[harmony]") {
    std::set<const ScaleRow*> shown;
    for (const Case& each : kCases) shown.insert(&row_of(analysed(std::string{each.bars}), each.chord));
    for (const std::span<const ScaleRow> rows : all_scale_rows()) {
        for (const ScaleRow& row : rows) {
            INFO(row.source << ": " << row.scale << ": " << row.why);
            CHECK(shown.contains(&row));
        }
    }
}

TEST_CASE("every row of the chord-scale table gives its scale in its place", "[harmony]") {
    for (const Case& row : kCases) {
        const Analysed tune = analysed(std::string{row.bars});
        const ScaleRow& decides = row_of(tune, row.chord);
        INFO(row.source << "   " << row.bars << "   decided by " << decides.source << ": " << decides.why);
        CHECK(tune.scale_id(row.chord) == row.scale);
    }
}

// Trade notes row 39 (CP): a triad a step above the bass, and a minor seventh a fifth above it, sound as 9sus
// on the bass.
TEST_CASE("a slash chord that sounds as a suspension takes the scale of its bass", "[harmony]") {
    CHECK(analysed("| F/G | G7 | C | % |").scale(0) == "G Mixolydian");
    CHECK(analysed("| Dm7/G | G7 | C | % |").scale(0) == "G Mixolydian");
}

TEST_CASE("every row names a scale of the table and alternatives that exist", "[harmony]") {
    std::set<std::string_view> ids;
    for (const std::span<const ScaleRow> rows : all_scale_rows()) {
        for (const ScaleRow& row : rows) {
            INFO(row.source << ": " << row.scale);
            CHECK(find_scale_type(row.scale) != nullptr);
            CHECK_FALSE(row.why.empty());
            CHECK(row.why.back() != '.');
            for (const std::string_view other : split(row.others, ' ')) {
                if (other.empty()) continue;
                CHECK(find_scale_type(other) != nullptr);
                CHECK(other != row.scale);
                CHECK(what_it_brings(other) != "holds {all}");
            }
            if (!row.rich.empty()) CHECK(find_scale_type(row.rich) != nullptr);
        }
    }
}

TEST_CASE("every use of a scale is on chords that it holds, and is found there", "[harmony]") {
    // The simplest chord of each sound, in their order.
    constexpr DegreeList kSimplest[]{"1 3 5",      "1 3 5",   "1 3 b7", "1 b3 5", "1 b3 5", "1 b3 5",
                                     "1 b3 b5 b7", "1 b3 b5", "1 3 #5", "1 4 5",  "1 5"};
    static_assert(std::size(kSimplest) == kSounds);
    std::set<std::string_view> ids;
    for (const ScaleUse& use : kScaleUses) {
        INFO(use.scale);
        CHECK(ids.insert(use.scale).second);
        CHECK_FALSE(use.brings.empty());
        const ScaleType* type = find_scale_type(use.scale);
        REQUIRE(type != nullptr);
        for (int sound = 0; sound < kSounds; ++sound) {
            const bool is_over = std::ranges::any_of(use.over, [&](const ScaleUse::Over& over) {
                return (over.sounds >> static_cast<unsigned>(sound) & 1U) != 0;
            });
            const auto offered = scales_by_sound(static_cast<Sound>(sound));
            CHECK((std::ranges::find(offered, use.scale) != offered.end()) == is_over);
            unsigned tones = 0;
            for (const Interval tone : kSimplest[sound].intervals())
                tones |= 1U << static_cast<unsigned>(tone.semitones());
            // Over a major chord these are for an altered fifth.
            if (is_over && use.scale != "lydian_augmented" && use.scale != "ionian_sharp_5")
                CHECK(holds_chord(type->pitch_set(), tones));
        }
    }
}

TEST_CASE("every chord kind by itself gets a scale that holds its notes", "[harmony]") {
    for (const ChordKind& kind : chord_kinds()) {
        for (int fifths = -8; fifths <= 8; ++fifths) {
            ChordSymbol symbol;
            symbol.root = PitchClass::from_fifths(fifths);
            symbol.kind = &kind;
            const std::vector<ScaleChoice> scales = scales_for(symbol);
            INFO(to_string(symbol));
            REQUIRE_FALSE(scales.empty());
            CHECK(holds_chord(scales.front().scale.type->pitch_set(), pitch_set(symbol)));
            CHECK_FALSE(scales.front().reason.words.empty());
            CHECK(in_words(scales.front().reason).find('{') == std::string::npos);
        }
    }
}

TEST_CASE("a reason never says that a scale holds a note which it lacks", "[harmony]") {
    const auto first = [](std::string_view symbol) {
        return in_words(scales_for(*parse_chord_symbol(symbol)).front().reason);
    };
    CHECK(first("Fmaj#11b9").starts_with("holds every note of the symbol but C: "));
    CHECK(first("C7b9").find(" but ") == std::string::npos);
    int claims = 0;
    for (const char* symbol :
         {"F(addb9,add#11)", "Cmaj7(#11)", "C7(b9,#11)", "C7(#5,b9)", "C13(#9)", "Cm11b5", "Cmaj7(b13)",
          "C7(b5,b9)", "Cm7(b13)", "C(addb9)", "Cmaj7(#9,b13)"}) {
        const ChordSymbol chord = *parse_chord_symbol(symbol);
        for (const ScaleChoice& choice : scales_for(chord)) {
            const std::string words = in_words(choice.reason);
            INFO(symbol << ", " << to_string(choice.scale) << ": " << words);
            if (words.find("every note of the symbol") == std::string::npos) continue;
            ++claims;
            const unsigned scale = over_root_of(chord, choice.scale);
            const bool holds_all = (pitch_set(chord) & ~scale) == 0;
            CHECK(holds_all == (words.find("every note of the symbol but ") == std::string::npos));
        }
    }
    CHECK(claims > 5);
}

// H31.10 names these pairs for chords without surroundings.
TEST_CASE("chords by themselves take the scales of the textbook list", "[harmony]") {
    const auto first = [](std::string_view symbol) {
        return to_string(scales_for(*parse_chord_symbol(symbol)).front().scale);
    };
    CHECK(first("Cmaj7") == "C Ionian");
    CHECK(first("Cmaj7#11") == "C Lydian");
    CHECK(first("Cmaj7#5") == "C Lydian augmented");
    CHECK(first("Cm7") == "C Dorian");
    CHECK(first("Cm6") == "C melodic minor");
    CHECK(first("Cm(maj7)") == "C melodic minor");
    CHECK(first("Cm7b5") == "C Locrian");
    CHECK(first("Cm9b5") == "C Locrian natural 2");
    CHECK(first("C7") == "C Mixolydian");
    CHECK(first("C7b9") == "C half-whole diminished");
    CHECK(first("C7#9") == "C half-whole diminished");
    CHECK(first("C7alt") == "C altered");
    CHECK(first("C7#5") == "C whole tone");
    CHECK(first("C7#11") == "C Lydian dominant");
    CHECK(first("Cdim7") == "C whole-half diminished");
    CHECK(first("C7sus4") == "C Mixolydian");
}

// Trade notes 1a, rule 5 (calc): a scale note a half step above a chord tone; H31.1 gives the case 11
// against 3.
TEST_CASE("notes a half step above a chord tone are to be passed over", "[harmony]") {
    const auto avoided = [](std::string_view symbol, std::string_view scale, bool resolves) {
        std::string out;
        for (const PitchClass note :
             notes_to_avoid(*parse_chord_symbol(symbol), *parse_scale(scale), resolves)) {
            out += to_string(note) + " ";
        }
        return out;
    };
    CHECK(avoided("Cmaj7", "C ionian", false) == "F ");
    CHECK(avoided("Cmaj7", "C lydian", false).empty());
    CHECK(avoided("Em7", "E phrygian", false) == "F C ");
    CHECK(avoided("G7", "G phrygian dominant", true) == "C ");         // b9 and b13 are colours of a V7
    CHECK(avoided("G7", "G phrygian dominant", false) == "Ab C Eb ");  // not of one that rests
}

// H31.7: the guide tones are the third and the seventh.
TEST_CASE("guide tones are the third and the seventh, or what stands for them", "[harmony]") {
    const auto tones = [](std::string_view symbol) {
        std::string out;
        for (const PitchClass note : guide_tones(*parse_chord_symbol(symbol))) out += to_string(note) + " ";
        return out;
    };
    CHECK(tones("Dm7") == "F C ");
    CHECK(tones("G7") == "B F ");
    CHECK(tones("C6") == "E A ");
    CHECK(tones("G7sus4") == "C F ");
    CHECK(tones("C") == "E ");
}

}  // namespace shedbook
