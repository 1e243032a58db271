#include "shedbook/notation/notate.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// "C4:1/8 -:1/4 Eb4:1/8" as a line: notes or rests with lengths in whole notes.
ConcertLine line_of(const std::string& text) {
    ConcertLine line;
    Position at;
    for (const std::string_view word : split(text, ' ')) {
        const std::size_t colon = word.find(':');
        const std::size_t slash = word.find('/');
        const Duration length{
            Rational{std::stoi(std::string{word.substr(colon + 1)}),
                     slash == std::string_view::npos ? 1 : std::stoi(std::string{word.substr(slash + 1)})}};
        if (word[0] != '-') line.notes.push_back({*parse_pitch(word.substr(0, colon)), at, length});
        at += length;
    }
    line.length = at - Position{};
    return line;
}

// What an event lasts by what is drawn of it.
Rational drawn_length(const Event& event, const WrittenMusic& music) {
    const auto* rest = std::get_if<Rest>(&event.what);
    if (rest != nullptr && rest->whole_bar) return {event.length, 4 * music.ticks_per_quarter};
    const Rational plain{1, std::int64_t{1} << event.value.log2};
    const Rational dotted = event.value.dots > 0 ? plain * Rational{3, 2} : plain;
    return dotted * Rational{event.tuplet.normal, event.tuplet.actual};
}

std::string beams_text(const Event& event) {
    static constexpr const char* kMarks[] = {"", "[", "-", "]", "/", "\\"};
    std::string out;
    for (const Beam beam : event.beams) out += kMarks[static_cast<std::size_t>(beam)];
    return out;
}

// One word an event: value (4 a quarter), dots, "r" for a rest, "~" tied on, "!" an accidental, "3" a tuplet
// member, beams.
std::string dump(const WrittenMusic& music) {
    std::string out;
    for (const Measure& measure : music.measures) {
        if (!out.empty()) out += " |";
        for (const Event& event : music.events_of(measure)) {
            const auto* note = std::get_if<Sounded>(&event.what);
            if (!out.empty()) out += ' ';
            if (const auto* rest = std::get_if<Rest>(&event.what); rest != nullptr && rest->whole_bar) {
                out += "R";
                continue;
            }
            if (note == nullptr) out += "r";
            out += std::to_string(1 << event.value.log2) +
                   std::string(static_cast<std::size_t>(event.value.dots), '.');
            if (event.tuplet.actual != 1) out += "t";
            if (note != nullptr && note->shown != Accidental::None) out += "!";
            if (note != nullptr && note->tied_on) out += "~";
            out += beams_text(event);
        }
    }
    return out;
}

std::string notated(const std::string& line, const Meter& meter = {}, const char* key = "C") {
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.meter = meter;
    options.key = parse_key(key);
    return dump(notate(line_of(line), options));
}

}  // namespace

// Grouping of beams: house rule; Gould, Behind Bars, from memory.
TEST_CASE("eighths are beamed by the half bar in 4/4, by the beat where anything shorter is near",
          "[notation]") {
    CHECK(notated("C4:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8 B4:1/8 C5:1/8") == "8[ 8- 8- 8] 8[ 8- 8- 8]");
    CHECK(notated("C4:1/8 D4:1/8 E4:1/16 F4:1/16 G4:1/8 A4:1/2") == "8[ 8] 16[[ 16-] 8] 2");
    CHECK(notated("-:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/2") == "r8 8 8[ 8] 2");
    CHECK(notated("C4:3/16 D4:1/16 E4:1/4 F4:1/2") == "8.[ 16]\\ 4 2");
}

TEST_CASE("beams follow the inner division of other meters", "[notation]") {
    CHECK(notated("C4:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8", Meter{3, 4}) == "8[ 8- 8- 8- 8- 8]");
    CHECK(notated("C4:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8", Meter{6, 8}) == "8[ 8- 8] 8[ 8- 8]");
    CHECK(notated("C4:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8 B4:1/8", Meter{7, 8}) == "8[ 8] 8[ 8] 8[ 8- 8]");
    CHECK(notated("C4:1/4 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8 B4:1/8 C5:1/8 D5:1/8", Meter{5, 4}) ==
          "4 8[ 8] 8[ 8] 8[ 8- 8- 8]");
    CHECK(notated("C4:1/8 D4:1/8 E4:1/8 F4:1/8 G4:1/8 A4:1/8 B4:1/8 C5:1/8", Meter{2, 2}) ==
          "8[ 8- 8- 8] 8[ 8- 8- 8]");
}

TEST_CASE("long notes are tied over bar lines and show the middle of the bar", "[notation]") {
    CHECK(notated("C4:1/2 D4:3/4 E4:3/4") == "2 2~ | 4 4~ 2");
    CHECK(notated("C4:1/8 D4:7/8") == "8[ 8~] 4~ 2");
    CHECK(notated("C4:3/8 D4:5/8") == "4. 8~ 2");
    CHECK(notated("C4:1/8 D4:1/4 E4:1/8 F4:1/2") == "8 4 8 2");
    CHECK(notated("C4:1/4 D4:1/2 E4:1/4") == "4 4~ 4 4");
    CHECK(notated("C4:3/4", Meter{6, 8}) == "2.");
    CHECK(notated("C4:1/2 D4:1/4", Meter{6, 8}) == "4.~ 8 4");
    CHECK(notated("C4:1/1 D4:1/1 -:1/1") == "1 | 1 | R");
}

TEST_CASE("triplets are told from plain eighths and closed beat by beat", "[notation]") {
    CHECK(notated("C4:1/12 D4:1/12 E4:1/12 F4:1/4 G4:1/2") == "8t[ 8t- 8t] 4 2");
    CHECK(notated("C4:1/6 D4:1/12 E4:3/4") == "4t 8t 4~ 2");
    CHECK(notated("C4:1/12 -:1/12 E4:1/12 F4:3/4") == "8t r8t 8t 4~ 2");
    const ConcertLine line = line_of("C4:1/12 D4:1/12 E4:1/12 F4:1/12 G4:1/12 A4:1/12 B4:1/2");
    NotateOptions options;
    options.instrument = find_instrument("flute");
    const WrittenMusic music = notate(line, options);
    CHECK(music.events[0].tuplet.starts);
    CHECK(music.events[2].tuplet.stops);
    CHECK(music.events[3].tuplet.starts);
    CHECK_FALSE(music.events[0].tuplet.bracket);
}

// An accidental lasts to the bar line in its own octave: LilyPond Notation Reference, "Automatic
// accidentals"; courtesy signs in the next bar and in other octaves: the same, style "modern".
TEST_CASE("accidentals hold for their bar and octave and are cancelled with courtesy", "[notation]") {
    CHECK(notated("F#4:1/4 F#4:1/4 F4:1/4 G4:1/4") == "4! 4 4! 4");
    CHECK(notated("F#4:1/1 F4:1/1 F4:1/1") == "1! | 1! | 1");
    CHECK(notated("F#4:1/2 F5:1/2 F5:1/1") == "2! 2! | 1");
    CHECK(notated("F#4:1/1 F5:1/1") == "1! | 1");
    CHECK(notated("F#4:1/1 F#5:1/1", {}, "G") == "1 | 1");
    CHECK(notated("F4:1/2 F#4:1/2 F#4:1/1", {}, "G") == "2! 2! | 1");
    CHECK(notated("Bb4:1/1 B4:1/1", {}, "F") == "1 | 1!");
    CHECK(notated("F#4:5/4 F#4:3/4") == "1!~ | 4 4!~ 2");
}

TEST_CASE("a part is transposed, its chords with it, and sounds as the line did", "[notation]") {
    const ConcertLine line = line_of("Bb3:1/2 D4:1/2 Eb4:1/1");
    for (const Instrument& instrument : instruments()) {
        NotateOptions options;
        options.instrument = &instrument;
        options.key = parse_key("Bb");
        options.chords = {{Position{}, parse_chord_symbol("Bbmaj7")},
                          {Position{Rational{1}}, parse_chord_symbol("Ebm7/Db")}};
        const WrittenMusic music = notate(line, options);
        INFO(instrument.id);
        REQUIRE(music.events.size() == 3);
        for (std::size_t i = 0; i < 3; ++i) {
            CHECK(sounding(music, std::get<Sounded>(music.events[i].what).pitch).midi() ==
                  line.notes[i].pitch.midi());
        }
        REQUIRE(music.chords.size() == 2);
        const Interval by = to_sounding(instrument.transposition);
        CHECK((music.chords[0].symbol->root + by).semitone() == 10);
        CHECK((*music.chords[1].symbol->bass + by).semitone() == 1);
        CHECK(std::get<Sounded>(music.events[0].what).pitch.on_paper().name() ==
              music.chords[0].symbol->root);
    }
}

// Common practice, no source.
TEST_CASE("a note keeps its one value where the chord changes under it; a rest is cut there", "[notation]") {
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.key = Key{};
    options.chords = {{Position{}, parse_chord_symbol("C")}, {Position{Rational{1, 4}}, std::nullopt}};
    const WrittenMusic music = notate(line_of("C4:1/1"), options);
    CHECK(dump(music) == "1");
    CHECK(music.chords[1].at == 12);
    CHECK(dump(notate(line_of("C4:3/4 D4:1/4"), options)) == "2. 4");
    CHECK(dump(notate(line_of("-:1/2 C4:1/2"), options)) == "r4 r4 2");
}

TEST_CASE("every bar of any line is full, and what is cut comes together again", "[notation]") {
    std::mt19937 random{7};
    const auto below = [&](unsigned n) { return static_cast<int>(random() % n); };
    const Rational lengths[] = {{1, 8}, {1, 4}, {1, 12}, {1, 16}, {3, 8}, {1, 6}, {1, 2}, {5, 8}, {1, 24}};
    const Meter meters[] = {{4, 4}, {3, 4}, {6, 8}, {5, 4}, {7, 8}, {2, 2}, {12, 8}};
    for (int round = 0; round < 400; ++round) {
        ConcertLine line;
        Position at;
        for (int i = 0; i < 30; ++i) {
            const Duration length{lengths[below(9)]};
            if (below(5) > 0)
                line.notes.push_back(
                    {Pitch{PitchClass::from_fifths(below(13) - 5), 4 + below(2)}, at, length});
            at += length;
        }
        line.length = at - Position{};
        NotateOptions options;
        options.instrument =
            &instruments()[static_cast<std::size_t>(below(static_cast<unsigned>(instruments().size())))];
        options.meter = meters[below(7)];
        options.key = Key{PitchClass::from_fifths(below(15) - 7), Mode::Major};
        const WrittenMusic music = notate(line, options);
        const Ticks whole = 4 * music.ticks_per_quarter;
        const Ticks bar = options.meter.beats * whole / options.meter.unit;
        std::vector<std::pair<int, Ticks>> joined;  // sounding pitch and length, ties joined
        bool open = false;
        for (const Measure& measure : music.measures) {
            Ticks filled = 0;
            for (const Event& event : music.events_of(measure)) {
                REQUIRE(event.at == filled);
                filled += event.length;
                REQUIRE(drawn_length(event, music) == Rational{event.length, whole});
                const auto* note = std::get_if<Sounded>(&event.what);
                if (note == nullptr) continue;
                REQUIRE(note->tied_from_before == open);
                if (open) {
                    joined.back().second += event.length;
                } else {
                    joined.emplace_back(sounding(music, note->pitch).midi(), event.length);
                }
                open = note->tied_on;
            }
            REQUIRE(filled == bar);
        }
        REQUIRE(joined.size() == line.notes.size());
        for (std::size_t i = 0; i < joined.size(); ++i) {
            REQUIRE(joined[i].first == line.notes[i].pitch.midi());
            REQUIRE(Duration{Rational{joined[i].second, whole}} == line.notes[i].length);
        }
    }
}

TEST_CASE("ticks are as fine as the line asks for, and what is drawn lasts as long as it sounds",
          "[notation]") {
    for (const char* text :
         {"C4:1/64 D4:3/64 E4:3/16 F4:1/4 G4:1/2", "C4:1/20 D4:3/20 E4:1/20 F4:3/4", "C4:1/28 D4:6/28 E4:3/4",
          "C4:5/32 D4:3/32 E4:3/4", "C4:1/64 D4:1/12 E4:29/192 F4:3/4"}) {
        NotateOptions options;
        options.instrument = find_instrument("flute");
        options.key = Key{};
        options.chords = {{Position{Rational{1, 32}}, parse_chord_symbol("G7")}};
        CAPTURE(text);
        WrittenMusic music;
        try {
            music = notate(line_of(text), options);
        } catch (const UnwritableMusic& fault) {
            CHECK(std::string{fault.what()}.find("bar 1: no note lasts") == 0);
            continue;
        }
        for (const Event& event : music.events)
            CHECK(drawn_length(event, music) == Rational{event.length, 4 * music.ticks_per_quarter});
    }
}

TEST_CASE("what no notation has is said with its bar", "[notation]") {
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.key = Key{};
    const auto fault_of = [&](const std::string& text) -> std::string {
        try {
            const WrittenMusic music = notate(line_of(text), options);
        } catch (const UnwritableMusic& fault) {
            return fault.what();
        }
        return {};
    };
    CHECK(fault_of("C4:1/4 D4:1/4 E4:1/4 F4:1/4").empty());
    CHECK(fault_of("C4:1/1 D4:1/256 E4:255/256") ==
          "bar 2: no note lasts 1/256 of a whole note; the shortest is a sixty-fourth, and tuplets divide a "
          "beat into up to 16");
    CHECK(fault_of("C4:1/99991 D4:99990/99991").find("too fine to be written together") != std::string::npos);
    options.bars = {{Duration{Rational{479, 480}}, std::nullopt, false}};
    CHECK(fault_of("C4:479/480").find("bar 1: no note lasts") == 0);
    options.bars = {{Duration{Rational{1'000'000}}, std::nullopt, false}};
    CHECK(fault_of("C4:1/64").find("a bar is too long") == 0);
}

TEST_CASE("a pickup is beamed as the end of a full bar", "[notation]") {
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.key = Key{};
    options.bars = {{Duration{Rational{3, 8}}, std::nullopt, true}, {kWhole, std::nullopt, false}};
    const WrittenMusic music = notate(line_of("C4:1/8 D4:1/8 E4:1/8 F4:1/1"), options);
    CHECK(dump(music) == "8[ 8- 8] | 1");
    CHECK(music.measures[0].is_pickup);
}

}  // namespace shedbook
