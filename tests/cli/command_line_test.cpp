// What can be typed, in which order, and what is said of slips.
#include <catch2/catch.hpp>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"

namespace shedbook {
namespace {

const std::string kShortTune = "Title: Blue Door\nKey: Bb\nMeter: 4/4\n| Cm7 | F7 | Bbmaj7 | G7 |\n";

std::size_t longest_line(const std::string& text) {
    std::size_t out = 0;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);) out = std::max(out, count_characters(line));
    return out;
}

const std::vector<std::string> kCommandNames{"chord", "drills",  "changes", "book", "class",
                                             "etude", "convert", "measure", "play", "list",
                                             "try",   "new",     "explain"};

}  // namespace

TEST_CASE("options and files stand in any order, and lists are written in three ways", "[cli][line]") {
    const ScratchFolder folder;
    const std::string tune = folder.file("a.tune");
    save(tune, kShortTune);
    const std::string out = folder.file("b.musicxml");
    for (const std::string& line : {"book " + tune + " --for flute,trumpet -o " + out,
                                    "book --for flute,trumpet " + tune + " -o " + out,
                                    "book -o " + out + " --for flute trumpet " + tune,
                                    "book --for flute --for trumpet -o " + out + " " + tune,
                                    "book --for=flute,trumpet -o" + out + " -- " + tune,
                                    "book –for “flute, trumpet” —output=" + out + " " + tune}) {
        INFO(line);
        // The shell must not take a long dash and quotation marks apart: they are no signs of its own.
        std::string typed = line;
        if (const std::size_t at = typed.find("“flute, trumpet”"); at != std::string::npos)
            typed.replace(at, std::string{"“flute, trumpet”"}.size(), "'“flute, trumpet”'");
        const Outcome outcome = run_program(typed);
        CHECK(outcome.err == "shedbook: wrote " + folder.file("b-flute.musicxml") + ", " +
                                 folder.file("b-trumpet.musicxml") + "\n");
        CHECK(outcome.exit_code == 0);
        CHECK(std::filesystem::remove(folder.file("b-flute.musicxml")));
        CHECK(std::filesystem::remove(folder.file("b-trumpet.musicxml")));
    }
}

TEST_CASE("all that is missing or wrong in a line is told in one run", "[cli][line]") {
    const Outcome nothing = run_program("book");
    CHECK(nothing.exit_code == 2);
    CHECK_THAT(nothing.err,
               Catch::Contains("TUNE... is missing") && Catch::Contains("--for INSTRUMENTS is missing") &&
                   Catch::Contains("-o FILE is missing") && Catch::Contains("for instance: shedbook book"));
    const Outcome much =
        run_program("book no.tune --for flut --drils thirds --level 9 --scales plane -o b.midi --seed x");
    CHECK(much.exit_code == 2);
    for (const char* said :
         {"no.tune: there is no such file", "no instrument is called 'flut'; did you mean 'flute'?",
          "'book' has no option --drils; did you mean '--drills'?",
          "--level takes a whole number from 1 to 6, not '9':\n    1  the scales of the tune's keys",
          "--scales takes plain, usual, rich, not 'plane'", "did you mean .mid?",
          "--seed takes a whole number from 0 up, not 'x'"})
        CHECK_THAT(much.err, Catch::Contains(said));
}

TEST_CASE("an option that another command has is told where it goes", "[cli][line]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kShortTune);
    const Outcome outcome = run_program("changes " + folder.file("a.tune") + " --for flute");
    CHECK(outcome.exit_code == 2);
    CHECK_THAT(outcome.err,
               Catch::Contains("'changes' has no option --for; it goes with") && Catch::Contains("book"));
    CHECK_THAT(run_program("play a.tune -o a.wav").err,
               Catch::Contains("shedbook convert my-tune.tune -o my-tune.wav"));
    CHECK_THAT(run_program("--for flute book a.tune").err,
               Catch::Contains("the command comes first, then --for: shedbook book --for ..."));
    CHECK_THAT(run_program("convert " + folder.file("a.tune") + " b.mxl").err,
               Catch::Contains("to write 'b.mxl', put -o before it"));
    CHECK_THAT(run_program("list scales drills").err, Catch::Contains("'drills' is one word too many"));
    CHECK_THAT(run_program("measure x --part").err, Catch::Contains("--part needs a value, NAME"));
    CHECK_THAT(run_program("etude --level 2 --level 3").err, Catch::Contains("--level stands twice"));
    CHECK_THAT(run_program("book --json").err, Catch::Contains("it goes with chord, changes"));
    CHECK_THAT(run_program("book --all=yes").err, Catch::Contains("--all takes no value"));
    CHECK_THAT(run_program("book -for flute").err, Catch::Contains("did you mean '--for'?"));
}

TEST_CASE("what is near to a slip is offered: files, families of instruments and drills, endings",
          "[cli][line]") {
    const ScratchFolder folder;
    save(folder.file("goat-path.tune"), kShortTune);
    const auto says = [&](const std::string& arguments) { return run_program(arguments).err; };
    CHECK_THAT(says("changes " + folder.file("goat-pth.tune")),
               Catch::Contains("did you mean '" + folder.file("goat-path.tune")));
    CHECK_THAT(says("changes " + folder.file("goat-path")),
               Catch::Contains("did you mean '" + folder.file("goat-path.tune")));
    CHECK_THAT(says("changes " + folder.file("no/goat-path")),
               Catch::Contains("no folder '" + folder.file("no") + "'"));
    CHECK_THAT(says("drills Dm7 --for sax -o a.mxl"), Catch::Contains("say which: soprano-sax, alto-sax"));
    CHECK_THAT(says("drills Dm7 --for bass -o a.mxl"), Catch::Contains("double-bass, electric-bass"));
    CHECK_THAT(says("drills Dm7 --for flute --drills enclosure -o a.mxl"),
               Catch::Contains("enclosures-above"));
    CHECK_THAT(says("drills Dm7 --for flute --drills bebop -o a.mxl"), Catch::Contains("say which: "));
    CHECK_THAT(says("drills Dm7 --for flute -o tune"),
               Catch::Contains("'tune' has no ending") && Catch::Contains(".mxl"));
    CHECK_THAT(says("drills Dm7 --for flute -o tune.mp3"), Catch::Contains("did you mean .wav or .flac?"));
    CHECK_THAT(says("changes " + folder.file("goat-path.tune") + " -o map.jpg"),
               Catch::Contains("there are: .svg"));
    CHECK_THAT(says("convert " + folder.file("goat-path.tune") + " -o a.tuen"),
               Catch::Contains("did you mean .tune?"));
    CHECK(folder.count_files() == 1);
}

TEST_CASE("help fits a hundred columns, and is there in every way that people ask for it",
          "[cli][line][help]") {
    const std::string all = run_program("help").out;
    CHECK(longest_line(all) <= 100);
    CHECK(all == run_program("--help").out);
    CHECK(all == run_program("-h").out);
    for (const char* said : {"Find out:", "Write:", "Listen:", "130  stopped with Ctrl-C"})
        CHECK_THAT(all, Catch::Contains(said));
    for (const std::string& name : kCommandNames) {
        INFO(name);
        CHECK_THAT(all, Catch::Contains("\n  " + name + " "));
        const Outcome help = run_program("help " + name);
        CHECK(help.exit_code == 0);
        CHECK(longest_line(help.out) <= 100);
        CHECK(help.out == run_program(name + " --help").out);
        CHECK_THAT(help.out, Catch::Contains("\nWith every command:\n") && Catch::Contains("\nExample:\n"));
    }
    CHECK_THAT(run_program("help bok").err, Catch::Contains("did you mean 'book'?"));
    CHECK(run_program("-V").out == run_program("--version").out);
}

TEST_CASE("with --quiet only errors are said", "[cli][line]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kShortTune);
    const Outcome outcome = run_program("changes --quiet --key 'G minor' " + folder.file("a.tune"));
    CHECK(outcome.err.empty());
    CHECK_FALSE(run_program("changes --key 'G minor' " + folder.file("a.tune")).err.empty());
    save(folder.file("b.tune"), "| Xq |\n");
    CHECK_THAT(run_program("changes --quiet " + folder.file("b.tune")).err, Catch::Contains("error:"));
}

TEST_CASE("lists and measures are there for programs too", "[cli][line][json]") {
    for (const char* what : {"instruments", "scales", "drills", "etudes", "plans", "levels", "rhythms",
                             "articulations", "phrases", "chords"}) {
        INFO(what);
        const Outcome listed = run_program(std::string{"list --json "} + what);
        CHECK(listed.exit_code == 0);
        Diagnostics faults;
        const std::optional<Data> data = read_json(SourceText{what, listed.out}, faults);
        REQUIRE(data);
        REQUIRE(data->as_array() != nullptr);
        CHECK(data->as_array()->size() > 3);
        for (const Data& entry : *data->as_array()) {
            CHECK(entry.as_object() != nullptr);
            CHECK((entry.find("id") != nullptr || entry.find("level") != nullptr));
        }
    }
    const ScratchFolder folder;
    REQUIRE(run_program("drills Dm7 --for flute --drills thirds -o " + folder.file("a.mxl")).exit_code == 0);
    const Outcome measured =
        run_program("measure --json " + folder.file("a.mxl") + " " + folder.file("a.mxl"));
    CHECK(measured.exit_code == 0);
    std::istringstream lines{measured.out};
    int scores = 0;
    for (std::string line; std::getline(lines, line); ++scores) {
        Diagnostics faults;
        const std::optional<Data> data = read_json(SourceText{"measure", line}, faults);
        REQUIRE(data);
        CHECK(data->find("largest_leap")->as_int() == 4);
        CHECK(data->find("file")->as_string() == folder.file("a.mxl"));
    }
    CHECK(scores == 2);
}

}  // namespace shedbook
