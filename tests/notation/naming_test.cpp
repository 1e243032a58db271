// One name for a note and a chord on all pages (common practice, no source): by the key of the part, with
// usual roots.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>

#include "shedbook/notation/notate.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

constexpr std::array kSymbols{"7alt", "7(#9)", "7(b9)", "m7b5", "maj7", "m7", "dim7", "7sus4", "6", "7(#5)"};
constexpr std::array kScales{
    "altered", "half-whole diminished", "phrygian dominant", "locrian", "lydian",
    "dorian",  "whole-half diminished", "mixolydian",        "ionian",  "whole tone"};

PlacedScale named(const char* instrument, const char* key, const char* chord, const char* scale) {
    const Key concert = *parse_key(key);
    const Interval by = written_interval(*find_instrument(instrument), concert);
    const auto symbol = parse_chord_symbol(chord);
    const std::vector<PitchClass> notes = spelled(*parse_scale(scale), chord_notes(*symbol));
    return scale_in_part({}, notes, symbol, by, Key{concert.tonic + by, concert.mode});
}

std::string text(const std::vector<PitchClass>& notes) {
    std::string out;
    for (const PitchClass note : notes) out += (out.empty() ? "" : " ") + to_string(note);
    return out;
}

}  // namespace

TEST_CASE("a scale keeps the root that its chord has in the chart, and gives up double accidentals",
          "[notation]") {
    // E for the alto is Db with five flats: its fifth is Ab, altered or not.
    CHECK(text(named("alto-sax", "E", "B7alt", "B altered").written) == "Ab A B C D E Gb");
    CHECK(text(named("alto-sax", "E", "B7", "B mixolydian").written) == "Ab Bb C Db Eb F Gb");
    CHECK(text(named("alto-sax", "E", "B7(b9)", "B phrygian dominant").written) == "Ab A C Db Eb Fb Gb");
    CHECK(text(named("flute", "A", "C#7", "C# phrygian dominant").written) == "C# D E# F# G# A B");
    CHECK(text(named("flute", "C", "C7alt", "C altered").written) == "C Db Eb E Gb Ab Bb");
}

TEST_CASE("a transposed chord has its usual name, near the side of the key", "[notation]") {
    const auto on_trumpet = [](const char* key, const char* chord) {
        const Key concert = *parse_key(key);
        const Interval by = written_interval(*find_instrument("trumpet"), concert);
        return to_string(
            written_symbol(*parse_chord_symbol(chord), by, Key{concert.tonic + by, concert.mode}));
    };
    // Concert E flat, written F.
    CHECK(on_trumpet("Eb", "C#m7") == "Ebm7");
    CHECK(on_trumpet("Eb", "F#7") == "Ab7");
    CHECK(on_trumpet("Eb", "Bmaj7") == "Dbmaj7");
    CHECK(on_trumpet("Eb", "B7/D#") == "Db7/F");
    // Two names as good: by the key.
    CHECK(on_trumpet("Eb", "Gbm7") == "Abm7");
    CHECK(on_trumpet("D", "Gbm7") == "G#m7");
    CHECK(on_trumpet("D", "F#7") == "G#7");
    // A raised root leads up, as the key has it or not.
    CHECK(on_trumpet("Bb", "Bdim7") == "C#dim7");
    CHECK(on_trumpet("Bb", "Em7b5") == "F#m7b5");
}

// As a beginner reads it: what the signature has needs no accidental.
TEST_CASE("with the names of the key, no note of the signature is called otherwise", "[notation]") {
    const Key e = *parse_key("E");
    const auto symbol = parse_chord_symbol("A#dim7");
    const std::vector<PitchClass> notes =
        spelled(*parse_scale("A# whole-half diminished"), chord_notes(*symbol));
    const PlacedScale placed = scale_in_part({}, notes, symbol, kUnison, e, NamesOf::Key);
    for (const PitchClass name : placed.written) {
        INFO(to_string(name));
        CHECK_FALSE(is_awkward(name));
        for (const int way : {-12, 12})
            CHECK_FALSE(is_in_signature(e, PitchClass::from_fifths(name.fifths() + way)));
    }
    // Third, fifth and seventh of other chords keep their letters: G sharp in E7, with three flats.
    const auto e7 = parse_chord_symbol("E7");
    const PlacedScale dominant = scale_in_part({}, spelled(*parse_scale("E mixolydian"), chord_notes(*e7)),
                                               e7, kUnison, parse_key("Eb"), NamesOf::Key);
    CHECK(text(dominant.written) == "E F# G# A B C# D");
}

TEST_CASE("in every key, on every instrument, roots have usual names and scales no double accidental",
          "[notation][property]") {
    for (const Instrument& instrument : instruments()) {
        for (int tonic = -6; tonic <= 6; ++tonic) {
            const Key key{PitchClass::from_fifths(tonic), Mode::Major};
            const Interval by = written_interval(instrument, key);
            const Key written{key.tonic + by, key.mode};
            for (int root = tonic - 6; root <= tonic + 9; ++root) {
                for (std::size_t k = 0; k < kSymbols.size(); ++k) {
                    const std::string name = to_string(PitchClass::from_fifths(root));
                    const auto symbol = parse_chord_symbol(name + kSymbols[k]);
                    REQUIRE(symbol);
                    const ChordSymbol chord = written_symbol(*symbol, by, written);
                    INFO(instrument.id << " " << to_string(key) << " " << to_string(*symbol) << " "
                                       << to_string(chord));
                    const bool is_usual = !is_awkward(chord.root) || is_in_signature(written, chord.root) ||
                                          chord.root == symbol->root;  // as it was typed
                    CHECK(is_usual);
                    const Scale scale{symbol->root, parse_scale(std::string{"C "} + kScales[k])->type};
                    const std::vector<PitchClass> notes = spelled(scale, chord_notes(*symbol));
                    const PlacedScale placed = scale_in_part({}, notes, symbol, by, written);
                    CHECK(placed.written.front() == chord.root);
                    for (std::size_t n = 0; n < placed.written.size(); ++n) {
                        const PitchClass note = placed.written[n];
                        CHECK(std::abs(note.alter()) <= 1);
                        CHECK(note.semitone() == (placed.concert[n] + by).semitone());
                    }
                }
            }
        }
    }
}

TEST_CASE("a note that passes has its plain name; a degree of the scale keeps its own", "[notation]") {
    const Instrument& flute = *find_instrument("flute");
    ConcertLine line;
    // C#7 in A: E# is its third; B# and Fb only lead somewhere.
    const std::array names{"E#4", "B#4", "C#5", "Fb4"};
    for (std::size_t i = 0; i < names.size(); ++i)
        line.notes.push_back(
            {*parse_pitch(names[i]), Position{} + kEighth * Rational{static_cast<int>(i)}, kEighth});
    line.length = kHalf;
    NotateOptions options;
    options.instrument = &flute;
    options.key = parse_key("A");
    options.scales = {named("flute", "A", "C#7", "C# phrygian dominant")};
    const WrittenMusic music = notate(line, options);
    std::vector<std::string> written;
    for (const Event& event : music.events) {
        if (const auto* note = std::get_if<Sounded>(&event.what))
            written.push_back(to_string(note->pitch.on_paper()));
    }
    CHECK(written == std::vector<std::string>{"E#4", "C5", "C#5", "E4"});
}

}  // namespace shedbook
