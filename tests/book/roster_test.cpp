#include "shedbook/book/roster.h"

#include <catch2/catch.hpp>
#include <string>

#include "shedbook/io/files.h"

namespace shedbook {
namespace {

struct Read {
    explicit Read(const std::string& text) : roster{read_roster({"class.toml", text}, diagnostics)} {}
    [[nodiscard]] std::string faults() const {
        std::string out;
        for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
        return out;
    }
    [[nodiscard]] bool says(const std::string& what) const {
        return faults().find(what) != std::string::npos;
    }

    Diagnostics diagnostics;
    Roster roster;
};

std::string student(const std::string& lines) {
    return "[[student]]\n" + lines + "\n";
}

Student named(const std::string& name, const std::string& instrument, std::size_t number) {
    Student out;
    out.name = name;
    out.number = number;
    out.part.instrument = find_instrument(instrument);
    return out;
}

}  // namespace

TEST_CASE("a roster says who plays what at which level, and what holds for all", "[book]") {
    const Read read{"level = 3\nplan = \"evening\"\ngoal = 120\n" +
                    student("name = \"Ada Lind\"\ninstrument = \"alto-sax\"") +
                    student("name = \"Bruno\"\ninstrument = \"trumpet\"\nlevel = 5\nrange = \"C4-A5\"\n"
                            "goal = 200\nplan = \"none\"\nfingerings = \"scales\"") +
                    student("name = \"Cleo\"\ninstrument = \"guitar\"\nrange = \"frets 5-9\"")};
    CHECK(read.faults().empty());
    REQUIRE(read.roster.students.size() == 3);
    const Student& ada = read.roster.students[0];
    CHECK(ada.name == "Ada Lind");
    CHECK(ada.level == 3);
    CHECK(ada.plan == "evening");
    CHECK(ada.goal == 120);
    // The range is the level's.
    CHECK(ada.part.range == *parse_range(level(3).range, *find_instrument("alto-sax")));
    const Student& bruno = read.roster.students[1];
    CHECK(bruno.level == 5);
    CHECK(bruno.plan.empty());
    CHECK(bruno.goal == 200);
    CHECK(bruno.part.fingerings == Fingerings::Scales);
    CHECK(ada.part.fingerings == Fingerings::None);
    CHECK(read.roster.students[2].part.frets == FretSpan{5, 9});
    CHECK(to_string(bruno.part.range.low.on_paper()) == "C4");
    CHECK(file_name_of(ada, read.roster.rows) == "01-ada-lind-alto-sax");
}

TEST_CASE("every fault of every row of a roster is reported at its place", "[book]") {
    const Read read{student("name = \"Ada\"\ninstrument = \"alto-sacks\"\nlevel = 2") +
                    student("instrument = \"flute\"\nlevel = 9\nrange = \"high\"") +
                    student("name = \"Cy\"\ninstrument = \"flute\"\nlevle = 2\nlevel = 2") +
                    student("name = \"Di\"\ninstrument = \"flute\"\nlevel = 2\nplan = \"evning\"\ngoal = 1") +
                    student("name = \"a\\u001b[2J\"\ninstrument = \"flute\"\nlevel = 2") +
                    student("name = \"  \"\ninstrument = \"flute\"\nlevel = 2") +
                    student("name = \"Ed\"\ninstrument = \"flute\"") +
                    student("name = \"Flo\"\ninstrument = \"flute\"\nlevel = 1")};
    CHECK(read.roster.rows == 8);
    REQUIRE(read.roster.students.size() == 1);
    CHECK(read.roster.students[0].name == "Flo");
    CHECK(read.roster.students[0].number == 8);
    CHECK(
        read.says("class.toml:3:14: error: no instrument is called 'alto-sacks'\n    instrument = "
                  "\"alto-sacks\"\n                 ^^^^^^^^^^^^\n    did you mean 'alto-sax'?"));
    CHECK(read.says("class.toml:5:1: error: this student has no 'name'"));
    CHECK(read.says("class.toml:7:9: error: 'level' must be a number from 1 to 6"));
    CHECK(read.says("class.toml:8:9: error: 'high' is no range"));
    CHECK(read.says("did you mean 'level'?"));
    CHECK(read.says("class.toml:18:8: error: no plan is called 'evning'"));
    CHECK(read.says("did you mean 'evening'?"));
    CHECK(read.says("'goal' must be a number from 20 to 400"));
    CHECK(read.says("class.toml:21:8: error: a name is one line of text"));
    CHECK(read.says("class.toml:25:8: error: a name is one line of text"));
    CHECK(read.says("this student has no 'level'"));
}

TEST_CASE("a wrong default, an empty roster and a text that is no TOML leave nobody", "[book]") {
    const Read wrong{"plan = \"evning\"\n" + student("name = \"A\"\ninstrument = \"flute\"\nlevel = 2")};
    CHECK(wrong.says("class.toml:1:8: error: no plan is called 'evning'"));
    CHECK(wrong.diagnostics.all().size() == 1);
    CHECK(wrong.roster.students.empty());
    CHECK(Read{"level = 2\n"}.says("this roster has no student"));
    CHECK(Read{"student = 3\n"}.diagnostics.has_errors());
    CHECK(Read{"student = [1, 2]\n"}.diagnostics.has_errors());
    CHECK(Read{"[[student]\n"}.diagnostics.has_errors());
    CHECK(Read{""}.diagnostics.has_errors());
}

// Plain letters: decompositions of the Unicode Character Database; ae, oe, ss and th by common practice, no
// source.
TEST_CASE("names become plain letters for files", "[book]") {
    CHECK(plain_name("Ada Lind") == "ada-lind");
    CHECK(plain_name("Zo\u00EB \u00C5ngstr\u00F6m") == "zoe-angstrom");
    CHECK(plain_name("Zoe\u0308 A\u030Angstro\u0308m") == "zoe-angstrom");  // marks behind their letters
    CHECK(plain_name("\u0141ukasz \u017B\u00F3\u0142\u0107") == "lukasz-zolc");
    CHECK(plain_name("Nguy\u1EC5n \u0110\u1EE9c") == "nguyen-duc");
    CHECK(plain_name("S\u00F8ren O'Neill-Stra\u00DFer") == "soren-oneill-strasser");
    CHECK(plain_name("  ../A. B. (2)/ ") == "a-b-2");
    CHECK(plain_name("\u042E\u043B\u0438\u044F").empty());
    CHECK(plain_name("\xff\xfe!").empty());
    CHECK(plain_name(std::string(300, 'x')).size() <= 40);
}

TEST_CASE("no two students of a roster share a file name, whatever they are called", "[book]") {
    CHECK(file_name_of(named("Ada", "flute", 3), 6) == "03-ada-flute");
    CHECK(file_name_of(named("Ada", "flute", 4), 6) == "04-ada-flute");
    CHECK(file_name_of(named("\u042E\u043B\u0438\u044F", "flute", 5), 6) == "05-flute");
    CHECK(file_name_of(named("Ada", "flute", 7), 120) == "007-ada-flute");
}

TEST_CASE("together, those who play the same instrument share the notes that all of them have", "[book]") {
    const auto with_range = [](const std::string& instrument, const std::string& range) {
        Student out = named("A", instrument, 1);
        out.part.range = *parse_range(range, *out.part.instrument);
        return out;
    };
    const std::vector<BookPart> parts =
        parts_together({with_range("flute", "C4-C6"), with_range("trumpet", "G3-C5"),
                        with_range("flute", "E4-G6"), with_range("trumpet", "E5-C6")});
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].instrument->id == "flute");
    CHECK(parts[0].range == *parse_range("E4-C6", *parts[0].instrument));
    // These two have no note in common: the first one's range stays.
    CHECK(parts[1].range == *parse_range("G3-C5", *parts[1].instrument));
}

TEST_CASE("the roster among the samples is sound", "[book]") {
    const Read read{read_file(std::string{SHEDBOOK_SOURCE_DIR} + "/docs/thursday-class.toml")};
    CHECK(read.faults().empty());
    CHECK(read.roster.students.size() == 6);
}

}  // namespace shedbook
