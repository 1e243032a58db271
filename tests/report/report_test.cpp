#include "shedbook/report/report.h"

#include "harmony/analysed.h"
#include "shedbook/base/text.h"
#include "shedbook/harmony/units.h"
#include "shedbook/io/data.h"

namespace shedbook {
namespace {

std::vector<Data> lines_of(const std::string& json_lines) {
    std::vector<Data> out;
    for (const std::string_view line : split(json_lines, '\n')) {
        if (line.empty()) continue;
        Diagnostics diagnostics;
        auto data = read_json(SourceText{"lines", std::string{line}}, diagnostics);
        REQUIRE(data);
        out.push_back(std::move(*data));
    }
    return out;
}

std::string text(const Data& data, std::string_view key) {
    const Data* value = data.find(key);
    REQUIRE(value != nullptr);
    return value->as_string().value_or("");
}

std::string json(const Analysed& tune) {
    std::ostringstream out;
    write_changes_json(tune.chart, tune.analysis, out);
    return out.str();
}

std::string table(const Analysed& tune, const TableOptions& options = {}) {
    return changes_table(tune.chart, tune.analysis, options);
}

}  // namespace

TEST_CASE("control characters of a title do not reach the terminal", "[report]") {
    Analysed tune = analysed("Title: Short\n[A]\n| Dm7 G7 | Cmaj7 |");
    tune.chart.title = "A\x1b[31mB";
    tune.chart.sections.front().label = "A\x07";
    const std::string out = table(tune);
    CHECK(out.find('\x1b') == std::string::npos);
    CHECK(out.find('\x07') == std::string::npos);
    CHECK(out.find("A?[31mB") == 0);
}

TEST_CASE("changes as JSON fill every field", "[report]") {
    Analysed tune = analysed("Title: Short\n| Dm7 G7 | Cmaj7 N.C. |");
    tune.chart.id = "short";
    const std::vector<Data> lines = lines_of(json(tune));
    REQUIRE(lines.size() == 5);
    const Data& five = lines[1];
    CHECK(text(five, "chart") == "short");
    CHECK(five.find("inst")->as_int() == 1);
    CHECK(five.find("bar")->as_int() == 1);
    CHECK(five.find("beat")->as_int() == 3);
    CHECK(text(five, "symbol") == "G7");
    CHECK(text(five, "root") == "G");
    CHECK(text(five, "scale_id") == "mixolydian");
    CHECK(text(five, "scale_name") == "G Mixolydian");
    CHECK(write_json(*five.find("scale")) == "[7,9,11,0,2,4,5]");
    CHECK(write_json(*five.find("notes")) == R"(["G","A","B","C","D","E","F"])");
    CHECK(write_json(*five.find("key")) == R"({"tonic":"C","mode":"major"})");
    CHECK(text(five, "numeral") == "V7");
    CHECK(text(five, "function") == "dominant");
    CHECK(five.find("target")->as_int() == 2);
    CHECK(write_json(*five.find("guide_tones")) == R"(["B","F"])");
    CHECK(write_json(*five.find("avoid")) == R"(["C"])");
    CHECK(five.find("alternatives")->as_array()->size() >= 2);
    CHECK(text(five, "why") == "V7 going home to Cmaj7: the notes of C major");
    CHECK(lines[2].find("target")->is_null());

    const Data& none = lines[3];
    CHECK(text(none, "symbol") == "N.C.");
    CHECK(none.find("root")->is_null());
    CHECK(none.find("scale") == nullptr);

    const Data& whole = lines[4];
    CHECK(write_json(*whole.find("home")) == R"({"tonic":"C","mode":"major"})");
    CHECK(text(whole, "form") == "functional");
}

TEST_CASE("beats are counted in units of the meter", "[report]") {
    const Analysed tune = analysed("Meter: 6/8\n| Dm7 / / G7 / / | Cmaj7 |");
    const std::vector<Data> lines = lines_of(json(tune));
    CHECK(lines[1].find("beat")->as_int() == 4);
}

TEST_CASE("other readings of a chord stand in its line with the fields that differ", "[report]") {
    const Analysed tune = analysed("Key: C\n|: Cmaj7 | A7 |1. Dm7 G7 :|2. D7 G7 | C6 |");
    const std::vector<Data> lines = lines_of(json(tune));
    const Data* also = lines[1].find("also");
    REQUIRE(also != nullptr);
    const Data& other = also->as_array()->at(0);
    CHECK(text(other, "numeral") == "V7/II");
    CHECK(other.find("guide_tones") == nullptr);
    CHECK(lines[0].find("also") == nullptr);
}

TEST_CASE("a unit is told with its places, the keys they are in, and how hard it is", "[report]") {
    const Analysed tune = analysed("Key: C\n| Dm7 G7 | Cmaj7 | Cm7 F7 | Bbmaj7 | Am7b5 D7 | Gm7 | % |");
    const TuneUnits units = units_of(tune.chart, tune.analysis);
    const std::string text = units_table(units);
    CHECK(text.find("  ii-V-I in C major                  ") != std::string::npos);
    CHECK(text.find("bars 1-2, 3-4 in Bb major\n") != std::string::npos);
    CHECK(text.find("bars 5-7\n") != std::string::npos);
    CHECK(difficulty_table(units).find("  bar 3     ") != std::string::npos);
}

TEST_CASE("a unit of one bar is in a bar, not in bars", "[report]") {
    const Analysed tune = analysed("Key: F\n| Am7b5 D7 | Gm7 C7 | Fmaj7 | % | Bbmaj7 | Am7b5 D7 | Dm7 | % |");
    const std::string text = units_table(units_of(tune.chart, tune.analysis));
    INFO(text);
    CHECK(text.find(" bar 6\n") != std::string::npos);
}

TEST_CASE("the table groups bars by section and shows where the key changes", "[report]") {
    const Analysed tune = analysed(
        "Title: Two Rooms\n[A]\n| Fm7 Bb7 | Ebmaj7 |\n[B]\n| Am7 D7 | Gmaj7 | % | % |\n"
        "[C]\n| Fm7 Bb7 | Ebmaj7 | % | % |");
    CHECK(table(tune) == R"(Two Rooms: Eb major

A
  Eb major
     1  Fm7     ii7    F Dorian       F G Ab Bb C D Eb
     1  Bb7     V7     Bb Mixolydian  Bb C D Eb F G Ab
     2  Ebmaj7  Imaj7  Eb Ionian      Eb F G Ab Bb C D

B
  G major
     3  Am7     ii7    A Dorian       A B C D E F# G
     3  D7      V7     D Mixolydian   D E F# G A B C
     4  Gmaj7   Imaj7  G Ionian       G A B C D E F#

C
  Eb major
     7  Fm7     ii7    F Dorian       F G Ab Bb C D Eb
     7  Bb7     V7     Bb Mixolydian  Bb C D Eb F G Ab
     8  Ebmaj7  Imaj7  Eb Ionian      Eb F G Ab Bb C D
)");
}

TEST_CASE("reasons stand under their chords when they are asked for", "[report]") {
    const std::string out = table(analysed("| Dm7 G7 | Cmaj7 |"), {.why = true});
    CHECK(out.find("\n          V7 going home to Cmaj7: the notes of C major\n") != std::string::npos);
}

TEST_CASE("no line of the table is wider than asked", "[report]") {
    const Analysed tune = analysed(
        "Title: A title that goes on for so long that no terminal would hold it in one line of eighty "
        "columns at all\n"
        "| Ebmaj13(#5,#9,#11)/Gb Bb13sus4(b9) | C#m7b5/F# F#7(b9,#9,#11,b13) | Bm(maj7)/A# B7alt | Em6/9 |");
    for (const int width : {80, 60, 40}) {
        for (const bool why : {false, true}) {
            const std::string text = table(tune, {.why = why, .width = width});
            for (const std::string_view line : split(text, '\n')) {
                INFO(line);
                CHECK(count_characters(line) <= static_cast<std::size_t>(width));
            }
        }
    }
}

TEST_CASE("the tables of all sample charts fit a terminal of 80 columns", "[report]") {
    for (const Chart& chart : sample_charts()) {
        const std::string out = table(analysed(chart), {.why = true});
        for (const std::string_view line : split(out, '\n')) {
            INFO(chart.id << ": " << line);
            CHECK(count_characters(line) <= 80);
        }
    }
}

// Sheets of the OpenEWLD data set (doi 10.5281/zenodo.4332855), where they are at hand.
TEST_CASE("the tables of real lead sheets fit a terminal of 80 columns", "[report][shared]") {
    const std::filesystem::path folder =
        std::filesystem::path{SHEDBOOK_SHARED_DIR} / "reference" / "leadsheets";
    if (!std::filesystem::exists(folder)) {
        WARN("skipped: ../shared/reference/leadsheets is not there");
        return;
    }
    for (const auto& entry : std::filesystem::directory_iterator{folder}) {
        if (entry.path().extension() != ".mxl") continue;
        Diagnostics diagnostics;
        const std::string file = entry.path().string();
        const auto chart = read_chart(file, read_file(file), {}, diagnostics);
        REQUIRE(chart);
        const std::string out = table(analysed(*chart), {.why = true});
        for (const std::string_view line : split(out, '\n')) {
            INFO(file << ": " << line);
            CHECK(count_characters(line) <= 80);
        }
    }
}

TEST_CASE("a chord symbol is answered as one line of JSON", "[report]") {
    const ChordLine line = chord_json("Db7#11");
    CHECK(line.ok);
    const Data data = lines_of(line.json).at(0);
    CHECK(text(data, "input") == "Db7#11");
    CHECK(text(data, "root") == "Db");
    CHECK(data.find("bass")->is_null());
    CHECK(write_json(*data.find("pcs")) == "[0,4,6,7,10]");
    CHECK(text(data, "printed") == "Db7(#11)");
    const Data& first = data.find("scales")->as_array()->at(0);
    CHECK(text(first, "scale_id") == "lydian_dominant");
    CHECK(write_json(*first.find("degrees")) == R"(["1","2","3","#4","5","6","b7"])");
    CHECK(text(first, "why") == "#11 in the symbol");
    CHECK(first.find("avoid")->as_array()->empty());
}

TEST_CASE("a symbol that cannot be read is answered with place and hint", "[report]") {
    const ChordLine line = chord_json("Gm7zz");
    CHECK_FALSE(line.ok);
    const Data data = lines_of(line.json).at(0);
    CHECK(data.find("ok")->as_bool() == false);
    CHECK_FALSE(text(data, "error").empty());
    CHECK(data.find("column")->as_int() == 4);
    REQUIRE(data.find("hint") != nullptr);
}

TEST_CASE("no chord is a valid answer without scales", "[report]") {
    const ChordLine line = chord_json("N.C.");
    CHECK(line.ok);
    const Data data = lines_of(line.json).at(0);
    CHECK(data.find("root")->is_null());
    CHECK(data.find("scales")->as_array()->empty());
}

TEST_CASE("a chord is explained with the scale to play first, and why", "[report]") {
    CHECK(explain_chord(*parse_chord_symbol("Em7")) == R"(Em7: E G B D

Play first: E Dorian
    E    F#   G    A    B    C#   D
    1    2    b3   4    5    6    b7
    by itself a minor seventh is heard as ii of a major key: natural 9 and
    natural 6
Guide tones: G D

Also fits:
  E Dorian added 3: E F# G G# A B C# D
    a passing major 3, so that chord tones fall on the beat
  E minor pentatonic: E G A B D
    five notes, none to pass over
  E Aeolian: E F# G A B C D
    b6, the darker natural minor
  E Phrygian: E F G A B C D
    b9 and b6 as in the key of the chord's relatives
)");
}

TEST_CASE("the heading names what form it is, where that is no matter of course", "[report]") {
    const auto heading = [](const char* bars) {
        const std::string out = table(analysed(std::string{"Title: Short\n"} + bars));
        return out.substr(0, out.find('\n'));
    };
    CHECK(heading("| Dm7 | % | % | % | % | % | % | % | Ebm7 | % | % | % | Dm7 | % | % | % |") ==
          "Short: D dorian, modal");
    CHECK(heading("| F7 | Bb7 | F7 | % | Bb7 | % | F7 | % | C7 | Bb7 | F7 | C7 |") ==
          "Short: F major, blues");
    CHECK(heading("| Dm7 | G7 | Cmaj7 | % |") == "Short: C major");
}

}  // namespace shedbook
