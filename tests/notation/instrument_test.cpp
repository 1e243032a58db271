#include "shedbook/notation/instrument.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <set>
#include <string>

namespace shedbook {
namespace {

template <class A, class B>
concept comparable = requires(A a, B b) {
    a == b;
};
static_assert(!comparable<WrittenPitch, Pitch>, "paper and sound are two things");
static_assert(comparable<WrittenPitch, WrittenPitch>);

Pitch lowest_sounding(const char* id) {
    const Instrument& instrument = *find_instrument(id);
    return sounding_range(instrument, instrument.practical).low;
}

}  // namespace

TEST_CASE("the shipped instruments are read without a fault", "[notation]") {
    std::ifstream file{std::string{SHEDBOOK_SOURCE_DIR} + "/templates/instruments.toml"};
    REQUIRE(file);
    const std::string text{std::istreambuf_iterator<char>{file}, {}};
    Diagnostics diagnostics;
    const auto list = read_instruments(SourceText{"instruments.toml", text}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) UNSCOPED_INFO(render(diagnostic));
    CHECK_FALSE(diagnostics.has_errors());
    CHECK(list.size() >= 60);
    CHECK(instruments().size() == list.size());
}

TEST_CASE("every instrument is consistent in itself", "[notation]") {
    std::set<std::string> ids;
    for (const Instrument& instrument : instruments()) {
        INFO(instrument.id);
        CHECK(ids.insert(instrument.id).second);
        const auto midi = [](WrittenPitch pitch) { return pitch.on_paper().midi(); };
        CHECK(midi(instrument.practical.low) <= midi(instrument.student.low));
        CHECK(midi(instrument.practical.high) >= midi(instrument.student.high));
        CHECK(midi(instrument.full.low) <= midi(instrument.practical.low));
        CHECK(midi(instrument.full.high) >= midi(instrument.practical.high));
        // MusicXML 4.0, transpose: the octaves are not part of diatonic and chromatic, and both speak of one
        // interval.
        const Transposition& t = instrument.transposition;
        CHECK(std::abs(t.diatonic) < 7);
        CHECK(std::abs(t.chromatic) < 12);
        CHECK(std::abs(Interval{t.diatonic, t.chromatic}.alter()) <= 1);
        CHECK(find_instrument(instrument.id) == &instrument);
        CHECK(find_instrument(instrument.name) == &instrument);
        for (const std::string& other : instrument.also) CHECK(find_instrument(other) == &instrument);
        CHECK_FALSE(instrument.source.empty());
    }
}

// Lowest sounding notes on which MuseScore's instruments.xml (June 2022), music21 and Abjad 3.31 agree.
TEST_CASE("lowest sounding notes are those of three libraries", "[notation]") {
    CHECK(lowest_sounding("clarinet") == *parse_pitch("D3"));
    CHECK(lowest_sounding("alto-sax") == *parse_pitch("Db3"));
    CHECK(lowest_sounding("tenor-sax") == *parse_pitch("Ab2"));
    CHECK(lowest_sounding("soprano-sax") == *parse_pitch("Ab3"));
    CHECK(lowest_sounding("oboe") == *parse_pitch("Bb3"));
    CHECK(lowest_sounding("bassoon") == *parse_pitch("Bb1"));
    CHECK(lowest_sounding("violin") == *parse_pitch("G3"));
    CHECK(lowest_sounding("viola") == *parse_pitch("C3"));
    CHECK(lowest_sounding("cello") == *parse_pitch("C2"));
    CHECK(lowest_sounding("double-bass") == *parse_pitch("E1"));
    CHECK(lowest_sounding("piccolo") == *parse_pitch("D5"));
    CHECK(lowest_sounding("trumpet") == *parse_pitch("E3"));
}

TEST_CASE("an instrument entry with faults is reported at each of them", "[notation]") {
    const SourceText source{"mine.toml",
                            "[[instrument]]\n"
                            "id = \"kazoo\"\n"
                            "name = \"Kazoo\"\n"
                            "short = \"Kz.\"\n"
                            "clef = \"H2\"\n"
                            "transpose = [0, 0]\n"
                            "student = \"C5-C4\"\n"
                            "practical = \"C4-C5\"\n"
                            "sound = \"wind.kazoo\"\n"
                            "program = 200\n"
                            "source = \"us\"\n"};
    Diagnostics diagnostics;
    CHECK(read_instruments(source, diagnostics).empty());
    REQUIRE(diagnostics.all().size() == 4);
    CHECK(diagnostics.all()[0].where == "mine.toml:5:8");
    CHECK(diagnostics.all()[0].message == "'clef' must be a sign and a line, as \"G2\", \"F4\" or \"G2-8\"");
    CHECK(diagnostics.all()[1].where == "mine.toml:6:13");
    CHECK(diagnostics.all()[2].where == "mine.toml:10:11");
    CHECK(diagnostics.all()[3].where == "mine.toml:7:11");
}

TEST_CASE("ranges are read by name or by two notes", "[notation]") {
    const Instrument& alto = *find_instrument("alto-sax");
    CHECK(parse_range("student", alto) == alto.student);
    CHECK(parse_range("Bb3-F6", alto) == alto.student);
    CHECK_FALSE(parse_range("F6-Bb3", alto));
    CHECK_FALSE(parse_range("wide", alto));
    CHECK_FALSE(parse_range("", alto));
}

TEST_CASE("the middle line is where the clef puts it", "[notation]") {
    CHECK(middle_line(Clef{'G', 2, 0}) == parse_pitch("B4")->staff_place());
    CHECK(middle_line(Clef{'F', 4, 0}) == parse_pitch("D3")->staff_place());
    CHECK(middle_line(Clef{'C', 3, 0}) == parse_pitch("C4")->staff_place());
    CHECK(middle_line(Clef{'C', 4, 0}) == parse_pitch("A3")->staff_place());
    CHECK(middle_line(Clef{'G', 2, -1}) == parse_pitch("B3")->staff_place());
}

// Counted on the neck of a guitar in the usual tuning (common practice, no source): the fifth fret of the low
// E string is A, the ninth of the high one C sharp.
TEST_CASE("frets make a range where there are strings", "[notation]") {
    const auto range = parse_range("frets 5-9", *find_instrument("guitar"));
    REQUIRE(range);
    CHECK(to_string(range->low.on_paper()) == "A3");
    CHECK(range->high.on_paper().midi() == parse_pitch("C#6")->midi());
    CHECK(parse_range("frets 0-12", *find_instrument("electric-bass"))->low.on_paper() == *parse_pitch("E2"));
    CHECK_FALSE(parse_range("frets 9-5", *find_instrument("guitar")));
    CHECK_FALSE(parse_range("frets 5-9", *find_instrument("flute")));
    CHECK_FALSE(parse_range("frets five-9", *find_instrument("guitar")));
}

TEST_CASE("the first range is an octave and a fifth within the student range", "[notation]") {
    for (const Instrument& instrument : instruments()) {
        CAPTURE(instrument.id);
        const auto first = parse_range("first", instrument);
        REQUIRE(first);
        CHECK(first->low.on_paper().midi() >= instrument.student.low.on_paper().midi());
        if (!instrument.first) CHECK(first->low == instrument.student.low);
        CHECK(first->high.on_paper().midi() <= instrument.student.high.on_paper().midi());
        CHECK(first->high.on_paper().midi() - first->low.on_paper().midi() <= 19);
    }
}

// Common practice, no source: nobody begins a brass instrument on its pedal side.
TEST_CASE("a beginner on brass has no notes below the first ones of a method", "[notation]") {
    CHECK(to_string(parse_range("first", *find_instrument("trumpet"))->low.on_paper()) == "Bb3");
    CHECK(to_string(parse_range("first", *find_instrument("trombone"))->low.on_paper()) == "Ab2");
}

}  // namespace shedbook
