// Rows of fingerings: the shipped charts against the harmonic series, and what they put under the notes.
#include "shedbook/notation/fingering.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "shedbook/base/text.h"
#include "shedbook/io/embedded.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

WrittenMusic written_for(const char* instrument, const std::string& concert_names) {
    ConcertLine line;
    Position at;
    for (const std::string_view name : split(concert_names, ' ')) {
        line.notes.push_back({*parse_pitch(name), at, kQuarter});
        at += kQuarter;
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.open_key = true;
    return notate(line, options);
}

// The texts under the notes, with the string where it is named: "D:1 2".
std::string row_under(const char* instrument, const std::string& concert_names,
                      const std::optional<FretSpan>& frets = std::nullopt) {
    WrittenMusic music = written_for(instrument, concert_names);
    add_fingerings(music, *find_instrument(instrument), frets);
    std::string out;
    for (std::size_t e = 0; e < music.events.size(); ++e) {
        if (!std::holds_alternative<Sounded>(music.events[e].what)) continue;
        const NoteFingering& fingering = music.fingerings[e];
        out += out.empty() ? "" : " ";
        if (!fingering.string_name.empty()) out += fingering.string_name + ":";
        out += fingering.text.empty() ? "-" : fingering.text;
    }
    return out;
}

// How many half steps a fingering lengthens the tube by. A valve is worth two, one, three half steps
// (Encyclopaedia Britannica, "valve (musical instruments)"), a position one more each (same, "trombone").
int lengthened_by(const std::string& text, bool is_slide) {
    int out = 0;
    for (const char c : text) {
        if (is_slide && c >= '1' && c <= '7') out += c - '1';
        if (!is_slide) out += c == '1' ? 2 : c == '2' ? 1 : c == '3' ? 3 : 0;
    }
    return out;
}

double half_steps_of_harmonic(int harmonic) {
    return 12 * std::log2(static_cast<double>(harmonic));
}

struct Tube {
    std::string_view chart;
    bool is_slide;
    int fundamental;  // half steps from the chart's open note
};

// Of all ways to speak the note on a harmonic that is in tune (not the 7th, 11th, 13th; Helmholtz, On the
// Sensations of Tone, the series of upper partials), the one that a table of fingerings gives.
void check_speaks(const Tube& tube, int note, std::string text) {
    // On the F side of a trombone the positions lie further apart and are not checked here.
    const bool has_thumb = text.starts_with("T");
    const int fundamental = has_thumb && !tube.is_slide ? tube.fundamental + 5 : tube.fundamental;
    if (has_thumb && tube.is_slide) return;
    const bool is_drawn_in = text.find("\u266F") != std::string::npos;
    const double down = lengthened_by(text, tube.is_slide) - (is_drawn_in ? 0.3 : 0.0);
    double best = 99;
    for (const int harmonic : {1, 2, 3, 4, 5, 6, 8, 9, 10, 12}) {
        best = std::min(best, std::abs(fundamental + half_steps_of_harmonic(harmonic) - down - note));
    }
    if (is_drawn_in) best = std::abs(fundamental + half_steps_of_harmonic(7) - down - note);
    INFO(tube.chart << ": " << text << " at " << note);
    CHECK(best < 0.2);
}

}  // namespace

TEST_CASE("what a chart of brass gives speaks by the harmonic series", "[notation]") {
    static constexpr std::array<Tube, 4> kTubes{{{"three-valves", false, -12},
                                                 {"slide", true, -12},
                                                 {"slide-with-thumb-valve", true, -12},
                                                 {"double-horn", false, -24}}};
    for (const Tube& tube : kTubes) {
        const FingeringChart* chart = find_fingering_chart(tube.chart);
        REQUIRE(chart != nullptr);
        for (std::size_t i = 0; i < chart->notes.size(); ++i) {
            std::string text = chart->notes[i];
            if (text.empty()) continue;
            if (text.front() == '#') text = "\u266F" + text.substr(1);
            check_speaks(tube, chart->lowest + static_cast<int>(i), text);
        }
    }
}

// No other fingering with less tube speaks the note: what the tables of band methods have in common.
TEST_CASE("three valves take the shortest tube", "[notation]") {
    const FingeringChart* chart = find_fingering_chart("three-valves");
    REQUIRE(chart != nullptr);
    for (std::size_t i = 0; i < chart->notes.size(); ++i) {
        const int note = chart->lowest + static_cast<int>(i);
        int shortest = 99;
        for (const int down : {0, 1, 2, 3, 4, 5, 6}) {
            for (const int harmonic : {2, 3, 4, 5, 6, 8, 10, 12}) {
                const double off = -12 + half_steps_of_harmonic(harmonic) - down - note;
                if (std::abs(off) < 0.2) shortest = std::min(shortest, down);
            }
        }
        INFO(note);
        CHECK(lengthened_by(chart->notes[i], false) == shortest);
    }
}

// From memory of the tables in band methods: C major and the notes between on a trumpet, B flat major on a
// trombone, the change of side on a double horn.
TEST_CASE("brass players find the fingering they know", "[notation]") {
    CHECK(row_under("trumpet", "Bb3 C4 D4 Eb4 F4 G4 A4 Bb4") == "0 13 12 1 0 12 2 0");
    CHECK(row_under("trumpet", "B3 C#4 E4 F#4 G#4") == "123 23 2 23 1");
    CHECK(row_under("trombone", "Bb2 C3 D3 Eb3 F3 G3 A3 Bb3") == "1 6 4 3 1 4 2 1");
    CHECK(row_under("trombone", "F#4 G4 Ab4") == "\u266F3 \u266F2 3");
    CHECK(row_under("trombone-tc", "Bb2 C3 D3 Eb3") == "1 6 4 3");
    CHECK(row_under("bass-trombone", "D2 E2 Bb2") == "T4 7 1");
    CHECK(row_under("euphonium", "Bb2 C3 D3 Eb3") == row_under("trumpet", "Bb3 C4 D4 Eb4"));
    CHECK(row_under("euphonium-tc", "Bb2 C3 D3 Eb3") == row_under("euphonium", "Bb2 C3 D3 Eb3"));
    CHECK(row_under("tuba", "Bb1 C2 D2 Eb2") == row_under("euphonium", "Bb2 C3 D3 Eb3"));
    CHECK(row_under("horn", "F3 G3 C4 Db4 D4 F4") == "0 1 0 T23 T12 T0");
}

// First position by letters: a finger for each (common practice, no source).
TEST_CASE("bowed strings have the fingers of the first position", "[notation]") {
    CHECK(row_under("violin", "G3 A3 B3 C4 D4 E4 F4 F#4 G4 A4") == "G:0 1 2 3 D:0 1 2 2 3 A:0");
    CHECK(row_under("violin", "G#4 Ab4 B5 C6") == "D:3 4 E:4 -");
    CHECK(row_under("cello", "C2 D2 E2 F2 G2") == "C:0 1 3 4 G:0");
    CHECK(row_under("double-bass", "E1 F1 G1 G#1 A1 C2") == "E:0 1 2 4 A:0 2");
}

// Counted on the neck in the usual tuning: the C major scale in the fifth position, and in the first
// (common practice, no source).
TEST_CASE("frets stay under the hand", "[notation]") {
    CHECK(row_under("guitar", "A2 B2 C3 D3 E3 F3 G3 A3", FretSpan{5, 8}) == "6:5 7 8 5:5 7 8 4:5 7");
    CHECK(row_under("guitar", "E2 F2 G2 A2 B2 C3 D3") == "6:0 1 3 5:0 2 3 4:0");
    CHECK(row_under("electric-bass", "C2 D2 E2 F2 G2 A2 B2 C3", FretSpan{2, 5}) == "3:3 5 2:2 3 5 1:2 4 5");
}

TEST_CASE("no place on the neck is outside of it or another note", "[notation]") {
    for (const Instrument& instrument : instruments()) {
        const FingeringChart* chart = fingering_chart_of(instrument);
        if (chart == nullptr || chart->by != FingeringChart::By::Fret) continue;
        ConcertLine line;
        const PitchRange range = sounding_range(instrument, instrument.full);
        Position at;
        for (int midi = range.low.midi(); midi <= range.high.midi(); ++midi) {
            line.notes.push_back({Pitch{simplest_name(midi % 12), midi / 12 - 1}, at, kQuarter});
            at += kQuarter;
        }
        line.length = at - Position{};
        NotateOptions options;
        options.instrument = &instrument;
        options.open_key = true;
        WrittenMusic music = notate(line, options);
        add_fingerings(music, instrument);
        REQUIRE(music.fingerings.size() == music.events.size());
        for (std::size_t e = 0; e < music.events.size(); ++e) {
            const auto* note = std::get_if<Sounded>(&music.events[e].what);
            if (note == nullptr) continue;
            const NoteFingering& fingering = music.fingerings[e];
            INFO(instrument.id << " " << to_string(note->pitch.on_paper()));
            REQUIRE(fingering.string >= 1);
            const std::size_t string = instrument.strings.size() - static_cast<std::size_t>(fingering.string);
            const int fret = std::stoi(fingering.text);
            CHECK(instrument.strings.at(string).on_paper().midi() + fret == note->pitch.on_paper().midi());
            CHECK(fret <= kMostFrets);
        }
    }
}

TEST_CASE("music for an instrument without a chart stays without a row", "[notation]") {
    WrittenMusic music = written_for("alto-sax", "C4 D4");
    add_fingerings(music, *find_instrument("alto-sax"));
    CHECK(music.fingerings.empty());
}

}  // namespace shedbook
