// The first steps of somebody new: a chart to write over, a book to look at, a word explained.
#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"

namespace shedbook {

TEST_CASE("a starter chart is read without a word of complaint, whatever its form, key and meter",
          "[cli][begin]") {
    const ScratchFolder folder;
    const std::array<std::string, 6> forms{"--form blues", "--form aaba", "--form ABAC",
                                           "--bars 1",     "--bars 14",   ""};
    const std::array<std::string, 5> keys{"C", "Bb", "'F# minor'", "Gm", "Db"};
    const std::array<std::string, 4> meters{"4/4", "3/4", "6/8", "3+2/4"};
    // Each form in each key, and each key in each meter.
    int charts = 0;
    for (std::size_t form = 0; form < forms.size(); ++form) {
        for (std::size_t key = 0; key < keys.size(); ++key) {
            const std::string& meter = meters[(form + key) % meters.size()];
            const std::string file = folder.file("tune-" + std::to_string(++charts) + ".tune");
            INFO(forms[form] << " " << keys[key] << " " << meter);
            const Outcome made = run_program("new 'Nine Wet Pegs' " + forms[form] + " --key " + keys[key] +
                                             " --meter " + meter + " -o " + file);
            CHECK(made.exit_code == 0);
            CHECK(made.err.empty());
        }
    }
    // Read in one run: no note, no warning, no fault.
    std::string all = "changes";
    for (int i = 1; i <= charts; ++i) all += " " + folder.file("tune-" + std::to_string(i) + ".tune");
    const Outcome read = run_program(all);
    CHECK(read.exit_code == 0);
    CHECK(read.err == "");
    CHECK_THAT(read.out,
               Catch::Contains("Nine Wet Pegs: G minor") && Catch::Contains("Nine Wet Pegs: Bb major"));
}

TEST_CASE("a starter keeps its notes when it is set in columns, and says what comes next", "[cli][begin]") {
    const ScratchFolder folder;
    const std::string file = folder.file("pegs.tune");
    const Outcome made = run_program("new 'Nine Wet Pegs' -o " + file);
    CHECK_THAT(made.out, Catch::Contains("shedbook book " + file + " --for alto-sax"));
    CHECK_THAT(read_file(file),
               Catch::Contains("; ") && Catch::Contains("Title: Nine Wet Pegs") && Catch::Contains("[A3]"));
    CHECK(run_program("convert " + file + " -o " + file).exit_code == 0);
    CHECK_THAT(read_file(file), Catch::Contains("two that share it"));
}

TEST_CASE("a starter writes over nobody's tune", "[cli][begin]") {
    const ScratchFolder folder;
    const std::string file = folder.file("mine.tune");
    save(file, "| C |\n");
    const Outcome again = run_program("new Mine -o " + file);
    CHECK(again.exit_code == 2);
    CHECK_THAT(again.err, Catch::Contains("is there already"));
    CHECK(read_file(file) == "| C |\n");
    for (const char* slip :
         {"new ' '", "new A --form bluse", "new A --key H", "new A --meter four", "new A --bars 0",
          "new A --bars 4 --form blues", "new 'A;B'", "new A --key 'D dorian'"}) {
        INFO(slip);
        const Outcome outcome = run_program(slip + (" -o " + folder.file("new.tune")));
        CHECK(outcome.exit_code == 2);
        CHECK_FALSE(outcome.err.empty());
    }
    CHECK_THAT(run_program("new A -o " + folder.file("a.mxl")).err, Catch::Contains("there are: .tune"));
    CHECK(folder.count_files() == 1);
}

TEST_CASE("a first book needs no tune", "[cli][begin]") {
    const ScratchFolder folder;
    const Outcome one = run_program("try --for trumpet -o " + folder.file("first.mxl"));
    CHECK(one.exit_code == 0);
    CHECK_THAT(one.out, Catch::Contains("wrote " + folder.file("first.mxl")));
    CHECK(looks_like_zip(read_file(folder.file("first.mxl"))));
    const Outcome two = run_program("try --for flute,cello --form blues -o " + folder.file("b.mid"));
    CHECK_THAT(two.out, Catch::Contains("b-flute.mid") && Catch::Contains("b-cello.mid"));
    CHECK(folder.count_files() == 3);
}

TEST_CASE("words are explained, and numerals worked out", "[cli][begin]") {
    const Outcome several = run_program("explain V7/ii 'guide tones'");
    CHECK(several.exit_code == 0);
    CHECK_THAT(several.out, Catch::Contains("in C major A7") && Catch::Contains("the third and the seventh"));
    CHECK_THAT(run_program("explain").out, Catch::Contains("On the page"));
    const Outcome slip = run_program("explain enclosre");
    CHECK(slip.exit_code == 2);
    CHECK_THAT(slip.err, Catch::Contains("did you mean 'enclosure'?"));
}

}  // namespace shedbook
