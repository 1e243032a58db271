// Chords over a bass that is not theirs. Where no book is named it is common practice, no source; LEV is
// Levine, The Jazz Theory Book (from memory); H31.10 the list of scales that takes over once the sounding
// chord is known. What each pair of chord and bass sounds as can be counted: the names hold those notes.
#include "over_bass.h"

#include <string>

#include "analysed.h"
#include "chord_view.h"

namespace shedbook {
namespace {

ChordSymbol symbol(const std::string& text) {
    const auto out = parse_chord_symbol(text);
    INFO(text);
    REQUIRE(out);
    return *out;
}

std::string alone(const std::string& text) {
    return to_string(heard_by_itself(symbol(text)));
}

std::string first_scale(const std::string& text) {
    return to_string(scales_for(symbol(text)).front().scale);
}

// Pitch classes, bass and all.
unsigned sounding(const ChordSymbol& chord) {
    unsigned out = chord.bass ? bit(chord.bass->semitone()) : 0U;
    for (const ChordTone& tone : tones(chord)) {
        out |= bit(modulo12(chord.root.semitone() + tone.above_root.semitones()));
    }
    return out;
}

}  // namespace

TEST_CASE("a triad over a foreign bass is read from the bass up", "[harmony]") {
    struct Row {
        const char* chord;
        const char* heard;
        const char* scale;
    };
    constexpr Row kRows[]{
        {"D/Bb", "Bbmaj7(#5)", "Bb Lydian augmented"},     // H31.10: maj7#5
        {"B/C", "Cdim(maj7)", "C whole-half diminished"},  // LEV
        {"Eb/Db", "Db6/9(#11)", "Db Lydian"},              // H31.10: #11
        {"F/G", "G9sus4", "G Mixolydian"},                 // LEV, the sus chord
        {"Gm/C", "C9sus4", "C Mixolydian"},                //
        {"Gm7/C", "C9sus4", "C Mixolydian"},               // LEV
        {"F/E", "E7sus4(b9,b13)", "E Phrygian"},           // LEV, the Phrygian chord
        {"C/A", "Am7", "A Dorian"},                        //
        {"C/Eb", "Eb13(b9)", "Eb half-whole diminished"},  // H31.10: 13b9
        {"Am/F", "Fmaj7", "F Ionian"},                     //
        {"Am/F#", "F#m7b5", "F# Locrian"},                 // H31.10
        {"Cm/D", "D7sus4(b9)", "D Dorian b2"},             // LEV
        {"Cdim/D", "D7(b9)", "D half-whole diminished"},   // H31.10: 7b9
    };
    for (const Row& row : kRows) {
        INFO(row.chord);
        CHECK(alone(row.chord) == row.heard);
        CHECK(first_scale(row.chord) == row.scale);
    }
}

TEST_CASE("an inversion stays an inversion", "[harmony]") {
    for (const char* chord : {"C/E", "C/G", "C7/Bb", "Am7/G", "Cmaj7/B", "Cm/Eb", "Caug/E", "Cdim7/A", "C"}) {
        INFO(chord);
        CHECK(alone(chord) == to_string(symbol(chord)));
    }
    CHECK(alone("Cm/Bb") == "Cm7");
    CHECK(alone("Cm/B") == "Cm(maj7)");
}

TEST_CASE("what a chord over a bass is heard as holds what sounds, in all twelve keys", "[harmony]") {
    for (const char* upper :
         {"C", "Cm", "Cdim", "Caug", "C7", "Cmaj7", "Cm7", "Cm7b5", "Cdim7", "C6", "Cm6"}) {
        for (int bass = 0; bass < 12; ++bass) {
            ChordSymbol chord = symbol(upper);
            chord.bass = simplest_name(bass);
            const ChordSymbol heard = heard_by_itself(chord);
            if (heard == chord) continue;
            INFO(to_string(chord) << " as " << to_string(heard));
            CHECK((sounding(chord) & ~sounding(heard)) == 0);
            for (int up = 1; up < 12; ++up) {
                const Interval by = PitchClass::from_fifths(up) - PitchClass::from_fifths(0);
                CHECK(heard_by_itself(transposed(chord, by)) == transposed(heard, by));
            }
        }
    }
}

TEST_CASE("a seventh in the bass that goes on as one is an inversion, over a bass that stays it is not",
          "[harmony]") {
    // R. Hutchinson, Music Theory for the 21st-Century Classroom: the seventh resolves down by step.
    const Analysed falls = analysed("| C | C/Bb | F/A | Fm/Ab | C/G G7 | C |");
    CHECK(falls.scale(1) == "C Mixolydian");
    CHECK(falls[1].numeral == "V7/IV");
    CHECK(falls.why(1).rfind("sounds as C7; ", 0) == 0);
    const Analysed line = analysed("| C | C/B | Am | F | Dm | G7 | C | C |");
    CHECK(line[1].scale.scale.tonic == symbol("C").root);
    CHECK(line[1].numeral == "Imaj7");
    const Analysed stays = analysed("| C | D/C | F/C | C |");
    CHECK(stays.scale(1) == "C Lydian");
}

TEST_CASE("the dominant over a tonic that is held stays a dominant", "[harmony]") {
    // Pedal point: common practice, no source.
    const Analysed held = analysed("| F | C/F | F | Bb/F | F | C7 | F | F |");
    CHECK(held[1].numeral == "V");
    CHECK(held.scale(1) == "C Mixolydian");
    CHECK(alone("C/F") == "Fmaj9");
}

TEST_CASE("a bass line over one root keeps the root, except where a suspension begins or ends with its triad",
          "[harmony]") {
    const Analysed line = analysed("| Am Am/G | Am/F# Am/F | E7 | Am |");
    for (const std::size_t i : {0U, 1U, 2U, 3U}) CHECK(line[i].scale.scale.tonic == symbol("A").root);
    const Analysed walks = analysed("| C C/D | C/E F | G7 | C |");
    CHECK(walks[1].scale.scale.tonic == symbol("C").root);
    const Analysed suspends = analysed("| G | G/A A7 | D | D |");
    CHECK(suspends.scale(1) == "A Mixolydian");
}

TEST_CASE("chords over one pedal stand in the key of the pedal, or in the one that it comes home to",
          "[harmony]") {
    const Analysed tonic = analysed("| Db/C | Eb/C | F#/C | D/C | Db/C | B/C | C | C |");
    for (std::size_t i = 0; i < 7; ++i) CHECK(tonic.key(i) == "C major");
    const Analysed dominant = analysed("| F/G | Eb/G | Ab/G | A/G | Db/G | F/G | C | C |");
    for (std::size_t i = 0; i < 7; ++i) CHECK(dominant.key(i) == "C major");
}

TEST_CASE("heading, scale, guide tones and reason of a chord over a bass agree", "[harmony]") {
    const Analysed tune = analysed("Key: C\n| C | D/Bb | F/G | C |");
    CHECK(tune[1].numeral == "bVIImaj7#5");
    CHECK(tune.scale(1) == "Bb Lydian augmented");
    CHECK(tune.why(1) == "sounds as Bbmaj7(#5); #5 in a major seventh chord: third mode of melodic minor");
    REQUIRE(tune[1].guide_tones.size() == 2);
    CHECK(to_string(tune[1].guide_tones[0]) == "D");
    CHECK(to_string(tune[1].guide_tones[1]) == "A");
    CHECK(tune[2].numeral == "V7sus4");
    CHECK(to_string(tune[2].scale.chord(tune[2].symbol)) == "G9sus4");
    // The root is never a note to pass over.
    for (const PitchClass note : tune[1].scale.avoid) CHECK(note != symbol("Bb").root);
}

}  // namespace shedbook
