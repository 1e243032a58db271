#include <sys/wait.h>
#include <algorithm>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <string>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"

namespace shedbook {
namespace {

const std::string kBlueDoor = "Title: Blue Door\nKey: Bb\nMeter: 4/4\n| Cm7 | F7 | Bbmaj7 | G7 |\n";

}  // namespace

TEST_CASE("a book is made for one instrument, or for several beside each other", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    CHECK(run_program("book " + folder.file("a.tune") + " --for alto-sax -o " + folder.file("book.mxl"))
              .exit_code == 0);
    CHECK(looks_like_zip(read_file(folder.file("book.mxl"))));
    const Outcome several = run_program("book " + folder.file("a.tune") + " --for alto-sax,trumpet -o " +
                                        folder.file("class.musicxml"));
    CHECK(several.exit_code == 0);
    CHECK(std::filesystem::exists(folder.file("class-alto-sax.musicxml")));
    CHECK(std::filesystem::exists(folder.file("class-trumpet.musicxml")));
    CHECK(folder.count_files() == 4);
}

TEST_CASE("what can be listed is listed, and a slip is told what it is near to", "[cli]") {
    CHECK_THAT(run_program("list plans").out, Catch::Contains("for-good"));
    CHECK_THAT(run_program("list levels").out, Catch::Contains("\n6   "));
    CHECK_THAT(run_program("list etudes").out, Catch::Contains("guide-tones"));
    const Outcome slip = run_program("list plan");
    CHECK(slip.exit_code == 2);
    CHECK_THAT(slip.err, Catch::Contains("did you mean 'plans'?"));
    CHECK_THAT(run_program("list sauce").err, Catch::Contains("there are: instruments, scales"));
}

TEST_CASE("a tune may stand behind a list of instruments, and comes from standard input as -", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    CHECK(run_program("book --for alto-sax trumpet " + folder.file("a.tune") + " -o " + folder.file("b.mxl"))
              .exit_code == 0);
    CHECK(run_program("book - --for flute -o " + folder.file("c.mxl"), kBlueDoor).exit_code == 0);
    CHECK(std::filesystem::exists(folder.file("c.mxl")));
}

TEST_CASE("the same command gives the same bytes", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    for (const char* name : {"x.mxl", "y.mxl"}) {
        REQUIRE(run_program("book " + folder.file("a.tune") + " --for guitar -o " + folder.file(name))
                    .exit_code == 0);
    }
    CHECK(read_file(folder.file("x.mxl")) == read_file(folder.file("y.mxl")));
}

TEST_CASE("all faults of a chart are shown in one run and nothing is written over a good book", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    REQUIRE(
        run_program("book " + folder.file("a.tune") + " --for flute -o " + folder.file("b.mxl")).exit_code ==
        0);
    const std::string good = read_file(folder.file("b.mxl"));
    save(folder.file("a.tune"), "Title: Blue Door\nKey: Q\n| Cm7 | Fz7 |\n| Bbmaj7 | Gm7q |\n");
    const Outcome outcome =
        run_program("book " + folder.file("a.tune") + " --for flute -o " + folder.file("b.mxl"));
    CHECK(outcome.exit_code == 1);
    CHECK_THAT(outcome.err, Catch::Contains("a.tune:2:6: error"));
    CHECK_THAT(outcome.err, Catch::Contains("a.tune:3:"));
    CHECK_THAT(outcome.err, Catch::Contains("a.tune:4:"));
    CHECK_THAT(outcome.err, Catch::Contains("^"));
    CHECK(read_file(folder.file("b.mxl")) == good);
    CHECK(folder.count_files() == 2);
}

TEST_CASE("a row of fingerings is for those who have one", "[cli]") {
    const ScratchFolder folder;
    const Outcome outcome = run_program(
        "drills Dm7 --for trumpet,flute --drills thirds --fingerings all -o " + folder.file("a.musicxml"));
    CHECK(outcome.exit_code == 0);
    CHECK_THAT(outcome.err, Catch::Contains("there are none for Flute"));
    CHECK_THAT(read_file(folder.file("a-trumpet.musicxml")), Catch::Contains("<fingering"));
    CHECK_THAT(read_file(folder.file("a-flute.musicxml")), !Catch::Contains("<fingering"));
}

TEST_CASE("an option that the output cannot use is refused", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    const std::string tune = folder.file("a.tune");
    const auto says = [&](const std::string& arguments) {
        const Outcome outcome = run_program(arguments);
        CHECK(outcome.exit_code == 2);
        return outcome.err;
    };
    const std::string mxl = " -o " + folder.file("b.mxl");
    CHECK_THAT(says("book " + tune + " --for flute --mute line" + mxl),
               Catch::Contains("--mute is for sound"));
    CHECK_THAT(says("drills C7 --for flute --tempo 92" + mxl), Catch::Contains("--tempo is for sound"));
    CHECK_THAT(says("drills C7 --for flute --page 2" + mxl), Catch::Contains("--page is for a picture"));
    CHECK_THAT(says("drills C7 --for flute --paper letter" + mxl), Catch::Contains("--paper is for pages"));
    CHECK_THAT(says("drills C7 --for flute --tempo 60-90 --tempo-step 2147483647 -o " + folder.file("b.mid")),
               Catch::Contains("--tempo-step"));
    CHECK_THAT(says("drills C7 --for flute --tempo 60-90 --tempo-bars 2147483647 -o " + folder.file("b.mid")),
               Catch::Contains("--tempo-bars"));
    CHECK_THAT(says("convert " + tune + " --symbols triangle" + mxl), Catch::Contains("--symbols is for"));
    CHECK_THAT(says("convert " + tune + " --for flute,trumpet -o -"),
               Catch::Contains("takes one instrument"));
    CHECK_THAT(says("changes " + tune + " --json --why"), Catch::Contains("for the table"));
    CHECK_THAT(says("changes " + tune + " --symbols bogus"), Catch::Contains("not 'bogus'"));
    CHECK(folder.count_files() == 1);
}

TEST_CASE("standard output that cannot be written is not passed over", "[cli]") {
    const int status = std::system(SHEDBOOK_PROGRAM " list instruments >/dev/full 2>/dev/null");
    CHECK(WEXITSTATUS(status) == 3);
}

TEST_CASE("where no note is left to play, that is said and nothing is written", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    for (const char* ending : {"mxl", "musicxml", "mid", "ly"}) {
        const std::string out = folder.file(std::string{"none."} + ending);
        const Outcome sheet = run_program("drills C7 --for trumpet --range C4-D4 -o " + out);
        CHECK(sheet.exit_code == 1);
        CHECK_THAT(sheet.err, Catch::Contains("would hold it"));
        CHECK_THAT(sheet.err, Catch::Contains("nothing is left to play for Trumpet in B-flat"));
        CHECK(run_program("book " + folder.file("a.tune") + " --for trumpet --range C4-D4 -o " + out)
                  .exit_code == 1);
    }
    CHECK(folder.count_files() == 1);
}

TEST_CASE("a bar that cannot be written is named, and nothing is written", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), "Title: Odd\n| C | lasts 1/7 G7 | C |\n");
    for (const char* command : {"book ", "etude ", "convert "}) {
        const Outcome outcome =
            run_program(command + folder.file("a.tune") + " --for flute -o " + folder.file("a.musicxml"));
        CHECK(outcome.exit_code == 1);
        CHECK_THAT(outcome.err, Catch::Contains("bar 2 lasts 1/7 of a whole note, and no meter does"));
    }
    CHECK(folder.count_files() == 1);
}

TEST_CASE("unknown names are a matter of usage, and the nearest one is offered", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    const std::string tune = folder.file("a.tune");
    const auto says = [&](const std::string& arguments) {
        const Outcome outcome = run_program(arguments + " -o " + folder.file("b.mxl"));
        CHECK(outcome.exit_code == 2);
        return outcome.err;
    };
    CHECK_THAT(says("book " + tune + " --for alto-sex"), Catch::Contains("did you mean 'alto-sax'?"));
    CHECK_THAT(says("book " + tune + " --for flute --drills thrids"),
               Catch::Contains("did you mean 'thirds'?"));
    CHECK_THAT(says("book " + tune + " --for flute --range wide"), Catch::Contains("'wide' is no range"));
    CHECK_THAT(says("book " + tune + " --for flute --bars 9-2"), Catch::Contains("--bars"));
    CHECK_THAT(says("book " + tune + " --for flute --transpose sideways"),
               Catch::Contains("--transpose takes"));
    CHECK_THAT(says("drills Dm7 --for trumpet --fingerings scale"),
               Catch::Contains("did you mean 'scales'?"));
    CHECK_THAT(says("drills Dm7 --for flute --fingerings all"),
               Catch::Contains("there are no fingerings for Flute"));
    CHECK_THAT(says("etude " + tune + " --for trumpet --fingerings scales"), Catch::Contains("takes all"));
    CHECK_THAT(says("drills 'F lydain' --for flute"), Catch::Contains("did you mean 'Lydian'?"));
    CHECK(run_program("book " + tune + " --for flute -o " + folder.file("b.doc")).exit_code == 2);
    CHECK_THAT(says("book " + tune + " --for flute --chords Cm7,D7"),
               Catch::Contains("there is no D7 in the tune"));
    CHECK_THAT(says("book " + tune + " --for flute --bars 99"), Catch::Contains("none in those --bars"));
    CHECK_THAT(run_program("bok x").err, Catch::Contains("did you mean 'book'?"));
    CHECK(run_program("sing").exit_code == 2);
    CHECK(run_program("").exit_code == 2);
    CHECK(folder.count_files() == 1);
}

TEST_CASE("what the machine cannot do has an exit code of its own", "[cli]") {
    const ScratchFolder folder;
    CHECK(run_program("changes " + folder.file("none.tune")).exit_code == 3);
    save(folder.file("a.tune"), kBlueDoor);
    CHECK(run_program("book " + folder.file("a.tune") + " --for flute -o " + folder.file("no/folder.mxl"))
              .exit_code == 3);
}

TEST_CASE("every command explains itself with an example", "[cli]") {
    const std::string version = run_program("--version").out;
    CHECK_THAT(version, Catch::StartsWith("shedbook "));
    for (const char* library : {"pugixml 1.", "CLI11 2.", "libzip 1.", "SQLite3 3.", "qpdf 11.",
                                "nlohmann_json 3.", "tomlplusplus 3."}) {
        CAPTURE(library);
        CHECK_THAT(version, Catch::Contains(library));
    }
    for (const char* command : {"chord", "drills", "changes", "book", "convert", "list"}) {
        const Outcome outcome = run_program(std::string{command} + " --help");
        CHECK(outcome.exit_code == 0);
        CHECK_THAT(outcome.out, Catch::Contains(std::string{"shedbook "} + command));
    }
}

TEST_CASE("chords are explained one a line from standard input, bad ones beside good ones", "[cli]") {
    const Outcome outcome = run_program("chord --json", "Cmaj7\nQ7\nF#m7b5\n");
    CHECK(outcome.exit_code == 1);
    CHECK(std::count(outcome.out.begin(), outcome.out.end(), '\n') == 3);
    CHECK_THAT(outcome.out, Catch::Contains("\"ok\":false"));
    const Outcome words = run_program("chord 'Db7#11'");
    CHECK(words.exit_code == 0);
    CHECK_THAT(words.out, Catch::Contains("Lydian dominant"));
}

TEST_CASE("a tune is transposed to a key or by an interval", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    for (const char* way : {"Eb", "'up P4'", "'down P5'"}) {
        const std::string out = folder.file("b.tune");
        REQUIRE(run_program("convert " + folder.file("a.tune") + " --transpose " + way + " -o " + out)
                    .exit_code == 0);
        CHECK_THAT(read_file(out), Catch::Contains("Key: Eb"));
        CHECK_THAT(read_file(out), Catch::Contains("Fm7"));
    }
}

TEST_CASE("a chart goes from text to MusicXML and JSON and back without loss", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    const auto convert = [&](const char* from, const char* to) {
        const Outcome outcome = run_program("convert " + folder.file(from) + " -o " + folder.file(to));
        INFO(outcome.err);
        REQUIRE(outcome.exit_code == 0);
    };
    convert("a.tune", "tidy.tune");
    convert("tidy.tune", "b.mxl");
    convert("b.mxl", "c.json");
    convert("c.json", "d.musicxml");
    convert("d.musicxml", "e.tune");
    CHECK(read_file(folder.file("e.tune")) == read_file(folder.file("tidy.tune")));
}

TEST_CASE("symbols are printed in the reader's own habit and read again", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    REQUIRE(run_program("convert " + folder.file("a.tune") + " --symbols signs,triangle,dash -o " +
                        folder.file("b.tune"))
                .exit_code == 0);
    CHECK_THAT(read_file(folder.file("b.tune")), Catch::Contains("C-7"));
    CHECK_THAT(run_program("changes " + folder.file("b.tune") + " --symbols dash").out,
               Catch::Contains("C-7"));
    CHECK(run_program("changes " + folder.file("a.tune") + " --symbols curly").exit_code == 2);
    REQUIRE(run_program("convert " + folder.file("b.tune") + " -o " + folder.file("c.tune")).exit_code == 0);
    REQUIRE(run_program("convert " + folder.file("a.tune") + " -o " + folder.file("d.tune")).exit_code == 0);
    CHECK(read_file(folder.file("c.tune")) == read_file(folder.file("d.tune")));
}

TEST_CASE("a part written for an instrument reads back to concert pitch", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    REQUIRE(run_program("convert " + folder.file("a.tune") + " --for alto-sax -o " + folder.file("alto.tune"))
                .exit_code == 0);
    CHECK_THAT(read_file(folder.file("alto.tune")), Catch::Contains("Am7"));
    REQUIRE(
        run_program("convert " + folder.file("alto.tune") + " -o " + folder.file("back.tune")).exit_code ==
        0);
    REQUIRE(run_program("convert " + folder.file("a.tune") + " -o " + folder.file("tidy.tune")).exit_code ==
            0);
    CHECK(read_file(folder.file("back.tune")) == read_file(folder.file("tidy.tune")));
}

TEST_CASE("drills have the signature that is asked for, and the same notes under each", "[cli]") {
    const ScratchFolder folder;
    const std::string file = folder.file("drill.musicxml");
    const auto sheet = [&](const std::string& words) {
        REQUIRE(run_program("drills " + words + " --drills range-scale -o " + file).exit_code == 0);
        return read_file(file);
    };
    // Open Music Theory v1, "Key signatures": F major has one flat, and G Dorian its notes.
    const std::string plain = sheet("\"G dorian\" --for piano");
    const std::string own = sheet("\"G dorian\" --for piano --signatures scale");
    CHECK(plain.find("<fifths>0</fifths>") != std::string::npos);
    CHECK(own.find("<fifths>-1</fifths>") != std::string::npos);
    CHECK(plain.find("<accidental>flat</accidental>") != std::string::npos);
    CHECK(own.find("<accidental>") == std::string::npos);
    // As an alto saxophone reads it, a sixth higher: E Dorian, two sharps.
    CHECK(sheet("\"G dorian\" --for alto-sax --signatures scale").find("<fifths>2</fifths>") !=
          std::string::npos);
    CHECK(sheet("\"G altered\" --for piano --signatures scale").find("<fifths>0</fifths>") !=
          std::string::npos);
}

TEST_CASE("what a MusicXML part cannot carry is said once, and a page carries the brackets", "[cli]") {
    const ScratchFolder folder;
    const std::string tune = folder.file("notes.tune");
    save(tune, "Title: Notes\nKey: F\n; softly\n| F | (Gm7) C7 | F | % |\n");
    const auto said = run_program("convert " + tune + " -o " + folder.file("a.musicxml")).err;
    CHECK_THAT(said, Catch::Contains("cannot carry the brackets of optional chords, notes behind ;"));
    REQUIRE(run_program("convert " + tune + " -o " + folder.file("a.ly")).err.find("cannot carry") ==
            std::string::npos);
    CHECK(read_file(folder.file("a.ly")).find("\\concat { \"(\" ") != std::string::npos);
}

TEST_CASE("a teacher's own drills are played at once, alone or in a book", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    save(folder.file("my.toml"),
         "[[drill]]\nid = \"hops\"\ntitle = \"Hops\"\nrising = \"1 5\"\nmeter = \"3/4\"\nrhythm = "
         "\"quintuplets\"\n");
    const std::string own = " --template " + folder.file("my.toml");
    CHECK(run_program("drills" + own + " Dm7 --for flute -o " + folder.file("d.musicxml")).exit_code == 0);
    const std::string sheet = read_file(folder.file("d.musicxml"));
    CHECK_THAT(sheet, Catch::Contains("Hops"));
    CHECK_THAT(sheet, Catch::Contains("<actual-notes>5</actual-notes>"));
    CHECK_THAT(sheet, Catch::Contains("<time><beats>3</beats><beat-type>4</beat-type></time>"));
    CHECK(run_program("book" + own + " " + folder.file("a.tune") + " --for flute --drills thirds,hops -o " +
                      folder.file("b.musicxml"))
              .exit_code == 0);
    CHECK_THAT(read_file(folder.file("b.musicxml")), Catch::Contains("In thirds"));
    save(folder.file("bad.toml"), "[[drill]]\nid = \"a\"\ntitle = \"A\"\nrising = \"1 x3\"\n");
    const Outcome bad = run_program("drills Dm7 --for flute --template " + folder.file("bad.toml") + " -o " +
                                    folder.file("x.mxl"));
    CHECK(bad.exit_code == 1);
    CHECK_THAT(bad.err, Catch::Contains("bad.toml:4:13: error: 'x3' is no note of a cell"));
    CHECK_FALSE(std::filesystem::exists(folder.file("x.mxl")));
}

TEST_CASE("instruments, plans, rhythms and scales of one's own are known to every command", "[cli]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), kBlueDoor);
    save(
        folder.file("mine.toml"),
        "[[instrument]]\nid = \"slide-sax\"\nname = \"Slide Saxophone\"\nshort = \"Sl. Sx.\"\nclef = \"G2\"\n"
        "transpose = [-1, -2, 0]\nstudent = \"D4-A5\"\npractical = \"Bb3-E6\"\nfull = \"Bb3-G6\"\n"
        "sound = \"wind.reed.saxophone.soprano\"\nprogram = 65\nsource = \"our own\"\n"
        "[[scale]]\nid = \"dark-lydian-dominant\"\nname = \"dark Lydian dominant\"\ndegrees = \"1 2 3 #4 5 "
        "b6 b7\"\n"
        "over = [\"dominant\"]\nbrings = \"#4 and b6\"\n"
        "[[rhythm]]\nid = \"limping\"\nabout = \"long, short\"\nlengths = \"3/16 1/16\"\n"
        "[[drill]]\nid = \"hops\"\ntitle = \"Hops\"\nrising = \"1 5\"\nrhythm = \"limping\"\n"
        "[[plan]]\nid = \"mine\"\ntitle = \"Mine\"\n[[plan.sitting]]\ntitle = \"Monday\"\ndrills = "
        "[\"hops\"]\n");
    const std::string own = " --template " + folder.file("mine.toml");
    CHECK_THAT(run_program("list instruments" + own).out, Catch::Contains("slide-sax"));
    CHECK_THAT(run_program("list scales" + own).out, Catch::Contains("dark Lydian dominant"));
    CHECK_THAT(run_program("chord C7" + own).out, Catch::Contains("dark Lydian dominant"));
    CHECK(run_program("chord C7").out.find("dark") == std::string::npos);
    CHECK(
        run_program("drills \"C dark lydian dominant\" --for slide-sax -o " + folder.file("d.musicxml") + own)
            .exit_code == 0);
    CHECK_THAT(read_file(folder.file("d.musicxml")), Catch::Contains("D dark Lydian dominant"));
    CHECK(run_program("book " + folder.file("a.tune") + " --for slide-sax --plan mine -o " +
                      folder.file("b.musicxml") + own)
              .exit_code == 0);
    CHECK_THAT(read_file(folder.file("b.musicxml")), Catch::Contains("Monday") && Catch::Contains("Hops"));
    save(folder.file("bad.toml"),
         "[[scale]]\nid = \"x\"\nname = \"X\"\ndegrees = \"1 2 4 3\"\nover = [\"dominannt\"]\n[[plam]]\nid = "
         "\"p\"\n");
    const Outcome bad = run_program("list scales --template " + folder.file("bad.toml"));
    CHECK(bad.exit_code == 1);
    CHECK_THAT(bad.err, Catch::Contains("bad.toml:4:") && Catch::Contains("degrees rise"));
    CHECK_THAT(bad.err, Catch::Contains("did you mean 'dominant'?"));
    CHECK_THAT(bad.err, Catch::Contains("did you mean [[plan]]?"));
}

TEST_CASE("any drill is laid in another rhythm, meter, place and articulation, in every octave", "[cli]") {
    const ScratchFolder folder;
    const std::string sheet = folder.file("s.musicxml");
    const auto write = [&](const std::string& options) {
        return run_program("drills Dm7 --for flute --drills octave-scale -o " + sheet + " " + options);
    };
    REQUIRE(write("--octaves all").exit_code == 0);
    CHECK_THAT(read_file(sheet), Catch::Contains("low octave") && Catch::Contains("high octave"));
    REQUIRE(write("--meter 3+2/4 --rhythm \"1/8 1/8 1/4\" --articulation slurred-in-twos").exit_code == 0);
    CHECK_THAT(read_file(sheet),
               Catch::Contains("<beats>3+2</beats>") && Catch::Contains("<slur type=\"start\""));
    CHECK(write("--displace 9").exit_code == 2);
    CHECK_THAT(write("--rhythm dottd").err, Catch::Contains("did you mean 'dotted'?"));
    CHECK_THAT(write("--articulation sluredintwos").err, Catch::Contains("--articulation"));
    CHECK(write("--meter 5/7").exit_code == 2);
}

}  // namespace shedbook
