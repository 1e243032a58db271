#include "shedbook/harmony/analysis.h"

#include <set>

#include "analysed.h"

namespace shedbook {

TEST_CASE("a ii V I is read as the header says", "[harmony]") {
    const Analysed tune = analysed("Title: Two bars\n| Dm7 G7 | Cmaj7 |");
    CHECK(to_string(tune.analysis.home) == "C major");
    CHECK(tune.scale(1) == "G Mixolydian");
    CHECK(tune.why(1) == "V7 going home to Cmaj7: the notes of C major");
    CHECK(tune[0].numeral == "ii7");
    CHECK(tune[0].function == Function::Subdominant);
    CHECK(tune[1].function == Function::Dominant);
    CHECK(tune[2].function == Function::Tonic);
    CHECK(tune[0].target == 1);
    CHECK(tune[1].target == 2);
    CHECK_FALSE(tune[2].target);
}

// H31.5 "Standard Chord Progressions": ii V I, and its minor form with a half-diminished ii.
TEST_CASE("ii V I and ii V i are read alike in all twelve keys", "[harmony]") {
    constexpr std::string_view kTonics[]{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
    for (const std::string_view name : kTonics) {
        const PitchClass tonic = *parse_pitch_class(name);
        const std::string two = to_string(tonic + Interval{1, 2});
        const std::string five = to_string(tonic + Interval{4, 7});
        INFO(name);
        const Analysed major =
            analysed("| " + two + "m7 | " + five + "7 | " + to_string(tonic) + "maj7 | % |");
        CHECK(to_string(major.analysis.home) == to_string(tonic) + " major");
        CHECK((major[0].numeral + " " + major[1].numeral + " " + major[2].numeral) == "ii7 V7 Imaj7");
        CHECK((major.scale_id(0) + " " + major.scale_id(1) + " " + major.scale_id(2)) ==
              "dorian mixolydian ionian");
        const Analysed minor =
            analysed("| " + two + "m7b5 | " + five + "7 | " + to_string(tonic) + "m6 | % |");
        CHECK(minor.analysis.home.tonic.semitone() == tonic.semitone());
        CHECK(is_minor(minor.analysis.home.mode));
        CHECK((minor[0].numeral + " " + minor[1].numeral + " " + minor[2].numeral) == "ii7b5 V7 i6");
        CHECK((minor.scale_id(0) + " " + minor.scale_id(1) + " " + minor.scale_id(2)) ==
              "locrian phrygian_dominant melodic_minor");
    }
}

// Hutchinson, "Secondary Dominants": V7 of a chord of the key, named by what it leads to.
TEST_CASE("applied dominants are named by their goal", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | A7 | Dm7 | E7 | Am7 | D7 | G7 | C7 | Fmaj7 | G7 | C6 | % |");
    CHECK(to_string(tune.analysis.home) == "C major");
    CHECK(tune[1].numeral == "V7/ii");
    CHECK(tune[3].numeral == "V7/vi");
    CHECK(tune[5].numeral == "V7/V");
    CHECK(tune[7].numeral == "V7/IV");
    CHECK(tune[1].target == 2);
}

TEST_CASE("a dominant leads to its goal through the ii that stands between", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | D7 | Dm7 G7 | Cmaj7 |");
    CHECK(tune[1].numeral == "V7/V");
    CHECK(tune[1].target == 3);
}

// Hutchinson, "Secondary Dominants": the plain triad is the same dominant without its seventh.
TEST_CASE("a dominant that a minor chord on its root takes back falls to no half step", "[harmony]") {
    const Analysed tune = analysed("Key: F\n| Fmaj7 | Dm7 | G7 | Gm7 Gb7 | Fmaj7 |");
    CHECK(tune[2].numeral == "V7/V");
    CHECK(tune[3].numeral == "ii7");
    CHECK(tune.why(2).find("half step") == std::string::npos);
}

TEST_CASE("a triad that gets its seventh afterwards is the same applied dominant", "[harmony]") {
    const Analysed tune = analysed("| G | E | E7 | Am7 | D7 | G | % | % |");
    CHECK(tune[1].numeral == "V/ii");
    CHECK(tune[2].numeral == "V7/ii");
    CHECK(tune.scale(1) == tune.scale(2));
    CHECK(analysed("| C | C7 | F | G7 | C | % | % | % |")[0].numeral == "I");
}

TEST_CASE("iv7 and bVII7 of a major key are borrowed together", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | Fm7 Bb7 | Cmaj7 | Fm7 Bb7 | Em7 A7 | Dm7 G7 | C6 | % |");
    for (const std::size_t iv : {1U, 4U}) {
        CHECK(tune[iv].numeral == "iv7");
        CHECK(tune[iv].target == static_cast<int>(iv) + 1);
        CHECK(tune[iv + 1].numeral == "bVII7");
    }
    // Before a Bb7 that goes to Eb it is the ii of Eb.
    CHECK(analysed("| Cmaj7 | Fm7 Bb7 | Ebmaj7 | Dm7 G7 | Cmaj7 | % | Dm7 G7 | C6 |").key(1) == "Eb major");
}

TEST_CASE("a reason never says of a substitute dominant that it leads nowhere", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | Dm7 | Db7#9 | Cmaj7 |");
    CHECK(tune.why(2) ==
          "#9 in the symbol, falling a half step to Cmaj7: b9 and #9 with the natural 5 and 13");
}

TEST_CASE("a suspended seventh is no minor tonic", "[harmony]") {
    const Analysed tune =
        analysed("Key: Bb\n| C7sus4 C7 | Fm9 | Bb13sus4 | Eb6/9 | F13sus4 | F7 | Bb6 | % |");
    CHECK(tune[5].numeral == "V7sus4");
    CHECK(tune.key(5) == "Bb major");
}

TEST_CASE("a ii and its V are named by the chord they belong to", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | Em7b5 A7 | Dm7 G7 | Cmaj7 | Gm7 C7 | Fmaj7 | Dm7 G7 | C6 |");
    CHECK(tune[1].numeral == "ii7b5/ii");
    CHECK(tune[2].numeral == "V7/ii");
    CHECK(tune[6].numeral == "ii7/IV");
}

TEST_CASE("roots written as raised degrees keep that name", "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 | F#m7b5 | Fm6 | C6 | Dm7 G7 | C6 |");
    CHECK(tune[1].numeral == "#iv7b5");
    CHECK(tune[2].numeral == "iv6");
}

// Hutchinson, "Modulation": a ii V I that comes to rest in another key is heard in that key.
TEST_CASE("a passage that comes to rest in another key is read in that key", "[harmony]") {
    const Analysed tune =
        analysed("| Ebmaj7 | Fm7 Bb7 | Ebmaj7 | % | Bm7 | E7 | Amaj7 | % | Fm7 | Bb7 | Ebmaj7 | % |");
    CHECK(to_string(tune.analysis.home) == "Eb major");
    CHECK(tune.key(4) == "A major");
    CHECK(tune[4].numeral == "ii7");
    CHECK(tune.key(6) == "A major");
    CHECK(tune.key(7) == "Eb major");
}

TEST_CASE("a tune that ends on its own tonic has come home, whatever key it was in before", "[harmony]") {
    const Analysed it =
        analysed(tune("Key: Ab\nMeter: 3/4\n| Abmaj7 | Fm7 | Bbm7 | Eb7 | Abmaj7 | Gm7b5 | Fm7 | Bb7 |\n"
                      "| Bbm7 | Eb7 | Abmaj7 | C7b9 | Fm6 | C7b9 | Fm6 | Ab6 |\n"));
    CHECK(it.key(14) == "F minor");
    CHECK(it.key(15) == "Ab major");
    CHECK(it[15].numeral == "I6");
}

TEST_CASE("a stated key is a strong hint", "[harmony]") {
    CHECK(to_string(analysed("Key: Am\n| Am | F | C | G | Am | F | C | G |").analysis.home) == "A minor");
    CHECK(to_string(analysed("Key: C\n| Am | F | C | G | Am | F | C | G |").analysis.home) == "C major");
}

TEST_CASE("a stated key is no law", "[harmony]") {
    const Analysed tune = analysed(
        "Key: C\n| Bmaj7 | G#m7 | C#m7 | F#7 | Bmaj7 | G#m7 | C#m7 F#7 | Bmaj7 |"
        " Emaj7 | Em6 | D#m7 | G#7 | C#m7 | F#7 | B6 | % |");
    CHECK(to_string(tune.analysis.home) == "B major");
}

// Hutchinson 31.3, "The Blues Progression".
TEST_CASE("a blues is known by its twelve bars, however rich its chords are", "[harmony]") {
    const Analysed plain = analysed("| F7 | Bb7 | F7 | % | Bb7 | % | F7 | % | C7 | Bb7 | F7 | C7 |");
    CHECK(plain.analysis.form == "blues");
    CHECK(to_string(plain.analysis.home) == "F major");
    CHECK(plain[0].function == Function::Tonic);
    CHECK(plain[1].function == Function::Subdominant);
    CHECK(plain[1].numeral == "IV7");

    const Analysed rich = analysed(
        "| F7 | Bb7 Bdim7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 Am7 | D7alt | Gm7 | C7 | F7 D7 | Gm7 C7 |");
    CHECK(rich.analysis.form == "blues");
    CHECK(to_string(rich.analysis.home) == "F major");

    const Analysed minor = analysed("| Cm6 | Fm7 | Cm6 | % | Fm7 | % | Cm6 | % | Ab7 | G7 | Cm6 | G7 |");
    CHECK(minor.analysis.form == "blues");
    CHECK(to_string(minor.analysis.home) == "C minor");
}

TEST_CASE(
    "the fourth degree of a blues is IV7, of a minor blues iv, and only a form of a blues is called one",
    "[harmony]") {
    // R. Hutchinson, Music Theory for the 21st-Century Classroom, 31.9: the blues in bars.
    const Analysed blues = analysed("| C7 | F7 | C7 | % | F7 | % | C7 | % | G7 | F7 | C7 | G7 |");
    CHECK(blues.analysis.form == "blues");
    CHECK(blues[1].numeral == "IV7");
    CHECK(blues[3].numeral == "IV7");
    const Analysed minor = analysed("| Cm7 | Fm7 | Cm7 | C7 | Fm7 | % | Cm7 | % | Ab7 | G7 | Cm7 | G7 |");
    CHECK(minor.analysis.form == "blues");
    CHECK(minor[4].numeral == "iv7");
    CHECK(minor[3].numeral == "V7/iv");
    const Analysed tune = analysed("| C7 | F7 | C7 | F7 | Bbmaj7 | G7 | Cm7 | F7 | Bbmaj7 | % |");
    CHECK(tune.analysis.form == "functional");
}

TEST_CASE("dominants that fall in half steps are told as a row of chromatic dominants", "[harmony]") {
    // Common practice, no source.
    const Analysed row = analysed("| Cmaj7 | Eb7 D7 | Db7 C7 | B7 Bb7 | A7 | Dm7 | G7 | Cmaj7 |");
    CHECK(row[1].numeral == "bIII7");
    CHECK(row[2].numeral == "II7");
    for (std::size_t i = 1; i < 7; ++i) CHECK(row.why(i).rfind("one of chromatic dominants", 0) == 0);
    CHECK(row[7].numeral == "V7/ii");
    const Analysed single = analysed("| Cmaj7 | Ab7 G7 | Cmaj7 | % |");
    CHECK(single[1].numeral == "bII7/V");
}

TEST_CASE("the scale of a rising diminished seventh is told as the harmonic minor that it comes from",
          "[harmony]") {
    const Analysed tune = analysed("| Cmaj7 C#dim7 | Dm7 G7 | Cmaj7 | % |");
    CHECK(tune.why(1) == "leads up a half step to Dm7: D harmonic minor from C#");
    const auto alone = scales_for(*parse_chord_symbol("Bdim7"));
    CHECK(in_words(alone.at(1).reason) == "C harmonic minor from B, its leading note");
}

TEST_CASE("a vamp is modal and takes its mode from its chord", "[harmony]") {
    const Analysed tune =
        analysed("| Dm7 | % | % | % | % | % | % | % | Ebm7 | % | % | % | Dm7 | % | % | % |");
    CHECK(tune.analysis.form == "modal");
    CHECK(to_string(tune.analysis.home) == "D dorian");
    CHECK(tune.key(1) == "Eb dorian");
    CHECK(tune.scale(0) == "D Dorian");
}

TEST_CASE("a long chord of the home mode stays in that mode", "[harmony]") {
    const Analysed tune =
        analysed("| Dm7 | % | % | % | G7 | % | % | % | Dm7 | % | % | % | Dm7 | % | % | % |");
    CHECK(tune.analysis.form == "modal");
    CHECK(tune.key(1) == "D dorian");
    CHECK(tune.scale(1) == "G Mixolydian");
}

TEST_CASE("in a modal tune every ground has its own mode", "[harmony]") {
    const Analysed tune = analysed(
        "| Dm7 | % | % | % | % | % | % | % | Ebmaj7#11 | % | % | % | F7sus4 | % | % | % | Dm7 | % | % | % |");
    CHECK(tune.analysis.form == "modal");
    CHECK(tune.key(0) == "D dorian");
    CHECK(tune.key(1) == "Eb lydian");
    CHECK(tune.key(2) == "F mixolydian");
}

TEST_CASE("a tune whose chart names a mode is modal unless its chords lead", "[harmony]") {
    CHECK(analysed("Key: D dorian\n| Dm7 | % | F | G | Dm7 | % | C | Dm7 |").analysis.form == "modal");
    CHECK(analysed("Key: D dorian\n| Dm7 | G7 | Em7b5 | A7 | Dm7 | % | Em7b5 A7 | Dm7 |").analysis.form ==
          "functional");
}

TEST_CASE("in a modal tune the other chords take the notes of the mode", "[harmony]") {
    const Analysed tune = analysed("Key: D dorian\n| Dm7 | Em7 | Dm7 | Em7 | Dm7 | Em7 | Dm7 | Em7 |");
    CHECK(tune.scale(1) == "E Phrygian");
    CHECK(tune.why(1) == "the notes of D dorian");
}

TEST_CASE("a scale that the chart fixes wins", "[harmony]") {
    const Analysed tune = analysed("| Dm7 | G7[altered] | Cmaj7 | % |");
    CHECK(tune.scale(1) == "G altered");
    CHECK(tune.why(1) == "the chart asks for this scale");
    // The choice of the rules is still offered.
    CHECK(to_string(tune[1].alternatives.at(0).scale) == "G Mixolydian");
}

// B13, G. Burton: the melody note under the chord decides between 4 and #4.
TEST_CASE("a melody that is kept decides open degrees, and the reason says so", "[harmony]") {
    Chart chart = tune("Key: C\n| Cmaj7 | Dm7 G7 | Cmaj7 | % |");
    const Pitch f_sharp{PitchClass::of(Step::F, 1), 5};
    chart.sections[0].bars[0].melody = {{Position{}, kHalf, f_sharp}};
    const Analysed sung = analysed(chart);
    CHECK(sung.scale(0) == "C Lydian");
    CHECK(sung.why(0) == "the melody holds F#: #4 and not 4");
    CHECK(sung.scale(3) == "C Ionian");

    // A passing eighth decides nothing.
    chart.sections[0].bars[0].melody = {{Position{}, kEighth, f_sharp}};
    CHECK(analysed(chart).scale(0) == "C Ionian");
}

TEST_CASE("the palette sets how many colours are used", "[harmony]") {
    const std::string bars = "| Cmaj7 | Em7 A7 | Dm7 | Db7 | Cmaj7 | F7 | Dm7 G7 | C6 |";
    const auto scales = [&](Palette palette) {
        const Analysed tune = analysed(bars, AnalysisOptions{palette});
        std::set<std::set<int>> out;  // by their notes
        for (const Reading& reading : tune.analysis.readings) {
            const std::vector<int> notes = sounding_notes(reading.scale.scale);
            out.insert({notes.begin(), notes.end()});
        }
        return out;
    };
    CHECK(analysed(bars, AnalysisOptions{Palette::Plain}).scale(1) == "E Phrygian");  // the notes of C
    CHECK(analysed(bars, AnalysisOptions{Palette::Rich}).scale_id(8) == "half_whole_diminished");
    CHECK(scales(Palette::Plain).size() < scales(Palette::Usual).size());
    CHECK(scales(Palette::Rich) != scales(Palette::Usual));
}

// Common practice, no source: who begins takes A Locrian and F Mixolydian in C minor, not the modes of its
// melodic minor.
TEST_CASE("in minor the plain palette takes the key's own modes, and says whose notes they are",
          "[harmony]") {
    const Analysed tune = analysed("Key: C minor\n| Cm7 | Am7b5 | Fm7 | F7 | Dm7b5 | G7 | Cm(maj7) | Cm6 |",
                                   AnalysisOptions{Palette::Plain});
    CHECK(tune.scale(1) == "A Locrian");
    CHECK(tune.scale(3) == "F Mixolydian");
    CHECK(tune.scale(4) == "D Locrian");
    CHECK(tune.scale(7) == "C Dorian");
    CHECK(tune.why(7) == "the notes of C Dorian");
    for (const Reading& reading : tune.analysis.readings) {
        const std::string why = in_words(reading.scale.reason);
        INFO(to_string(reading.symbol) << ": " << why);
        if (why != "the notes of C minor") continue;
        CHECK(std::ranges::all_of(reading.scale.notes, [](PitchClass note) {
            return is_in_signature({*parse_pitch_class("C"), Mode::Minor}, note);
        }));
    }
}

TEST_CASE("the plain palette needs no more different sets of notes than the usual one", "[harmony]") {
    const auto sets = [](const Chart& chart, Palette palette) {
        std::set<std::set<int>> out;
        for (const Reading& reading : analysed(chart, {palette}).analysis.readings) {
            const std::vector<int> notes = sounding_notes(reading.scale.scale);
            out.insert({notes.begin(), notes.end()});
        }
        return out.size();
    };
    for (const Chart& chart : sample_charts()) {
        INFO(chart.id);
        CHECK(sets(chart, Palette::Plain) <= sets(chart, Palette::Usual));
    }
}

TEST_CASE("a chord met twice in other surroundings keeps its first reading and lists the others",
          "[harmony]") {
    const Analysed tune = analysed("Key: C\n|: Cmaj7 | A7 |1. Dm7 G7 :|2. D7 G7 | C6 |");
    CHECK(tune[1].numeral == "V7/ii");
    REQUIRE(tune.analysis.also.at(1).size() == 1);
    CHECK(tune.analysis.also[1][0].numeral == "V7/II");
    CHECK(tune.analysis.also[0].empty());
}

TEST_CASE("keys are spelled as the chart spells its chords", "[harmony]") {
    CHECK(to_string(analysed("| Abm7 | Db7 | Gbmaj7 | % |").analysis.home) == "Gb major");
    CHECK(to_string(analysed("| G#m7 | C#7 | F#maj7 | % |").analysis.home) == "F# major");
    CHECK(to_string(analysed("| A#m7 | D#7 | G#maj7 | % |").analysis.home) ==
          "Ab major");  // eight sharps are too many
}

TEST_CASE("charts without chords are read without fuss", "[harmony]") {
    const Analysed none = analysed("Key: Eb\n| N.C. | % |");
    CHECK(none.analysis.readings.empty());
    CHECK(to_string(none.analysis.home) == "Eb major");
    CHECK(analysed("| C5 | % |").analysis.readings.size() == 1);
}

TEST_CASE("a plain cadence leaves no doubt, and a loop of relatives says which home comes next",
          "[harmony]") {
    const Analysed sure = analysed("| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | Cmaj7 | % |");
    CHECK(sure.analysis.doubt.probability > 0.9);
    CHECK_FALSE(sure.analysis.overruled);

    const Analysed loop = analysed("| Am | F | C | G | Am | F | C | G |");
    const HomeDoubt& doubt = loop.analysis.doubt;
    REQUIRE(doubt.runner_up);
    CHECK(doubt.runner_up->tonic != loop.analysis.home.tonic);
    CHECK((doubt.probability > 0 && doubt.probability < sure.analysis.doubt.probability));
    CHECK_FALSE(in_words(doubt.for_home).empty());
    CHECK_FALSE(in_words(doubt.for_runner_up).empty());
}

TEST_CASE("how sure a home is does not depend on the key that the tune is played in", "[harmony]") {
    const Analysed in_c = analysed("| Am | F | C | G | Am | F | C | G |");
    const Analysed in_eb = analysed("| Cm | Ab | Eb | Bb | Cm | Ab | Eb | Bb |");
    CHECK(in_c.analysis.doubt.probability == Approx(in_eb.analysis.doubt.probability));
    const Analysis moved = transposed(in_c.analysis, Interval{2, 3});
    CHECK(moved.doubt.runner_up == in_eb.analysis.doubt.runner_up);
    CHECK(in_words(moved.doubt.for_home) == in_words(in_eb.analysis.doubt.for_home));
}

TEST_CASE("a key that the chords overrule is said, and as law it is kept", "[harmony]") {
    const std::string text =
        "Key: Gb major\n| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | Cmaj7 | % | Am7 | D7 | G7 | % | Dm7 | G7 | Cmaj7 "
        "| % |";
    const Analysed hinted = analysed(text);
    CHECK(to_string(hinted.analysis.home) == "C major");
    REQUIRE(hinted.analysis.overruled);
    CHECK(to_string(*hinted.analysis.overruled) == "Gb major");

    const Analysed by_law = analysed(text, {.key_is_law = true});
    CHECK(to_string(by_law.analysis.home) == "Gb major");
    CHECK_FALSE(by_law.analysis.overruled);
    CHECK(by_law.analysis.doubt.probability == 1);
    CHECK_FALSE(by_law.analysis.doubt.runner_up);
}

}  // namespace shedbook
