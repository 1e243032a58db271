// The practice log as a player uses it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "count_text.h"
#include "program.h"
#include "scratch_folder.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "shedbook/log/pages.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

const std::string kSample = std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/ferry-at-six.tune";

// A log of its own for each test.
class MyLog {
  public:
    [[nodiscard]] Outcome run(const std::string& command, const std::string& arguments) const {
        return run_program(command + " " + arguments + " --data " + data());
    }
    [[nodiscard]] Outcome log(const std::string& arguments) const { return run("log", arguments); }
    [[nodiscard]] std::string data() const { return folder_.file("practice.db"); }
    [[nodiscard]] std::string file(const std::string& name) const { return folder_.file(name); }

  private:
    ScratchFolder folder_;
};

// In another year than that of the entries, answers name it.
std::string without_year(std::string text) {
    for (std::size_t at = 0; (at = text.find(" 2026")) != std::string::npos;) text.erase(at, 5);
    return text;
}

std::int64_t minutes_in(const std::string& json) {
    Diagnostics diagnostics;
    const auto data = read_json(SourceText{"today", json}, diagnostics);
    REQUIRE(data);
    std::int64_t sum = 0;
    for (const Data& piece : *data->find("pieces")->as_array())
        sum += piece.find("minutes")->as_int().value();
    CHECK(data->find("minutes")->as_int() == sum);
    return sum;
}

}  // namespace

TEST_CASE("what was practised is entered, corrected and removed", "[cli]") {
    const MyLog my;
    Outcome run = my.log(
        "add 'Db7#11' thirds --for alto-sax --tempo 92 --right 4 --wrong 1 --from-memory "
        "--minutes 6 --note 'new reed' --goal 92 --on 2026-11-28");
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    CHECK(without_year(run.out) ==
          "entered as 1: Db Lydian dominant, thirds (written Bb), alto-sax; Sat 28 Nov, at 92 of 92, 4 "
          "right, 1 wrong, from "
          "memory, 6 minutes\n  now from memory; it comes back on Sun 29 Nov\n");
    CHECK_THAT(my.log("correct 1 --tempo 88 --with-sheet").out,
               Catch::Contains("now slow (before: from memory)"));
    CHECK_THAT(my.log("show").out, Catch::Contains("at 88 of 92, 4 right, 1 wrong, 6 minutes"));
    CHECK(my.log("remove 1").exit_code == 0);
    CHECK(my.log("show").out == "nothing is entered there\n");
    run = my.log("show --history");
    CHECK(count(run.out, "(corrected since)") == 2);
    CHECK(count(run.out, "(removed)") == 1);
    CHECK(my.log("remove 1").exit_code == 1);
    CHECK(my.log("check").out == my.data() + ": sound\n");
}

TEST_CASE("a chord and a scale with the same notes are one thing to practise", "[cli]") {
    const MyLog my;
    REQUIRE(my.log("add 'Db7#11' thirds --for alto-sax --tempo 80 --right 4").exit_code == 0);
    // The instrument of the last entry.
    const Outcome run = my.log("add 'C# lydian dominant' thirds --tempo 80 --right 4");
    REQUIRE(run.exit_code == 0);
    CHECK_THAT(my.log("show 'Db lydian dominant'").out, Catch::Contains("alto-sax"));
    CHECK(count(my.log("show 'Db7#11'").out, "Db Lydian dominant, thirds") == 2);
    CHECK(my.log("show 'D7#11'").out == "nothing is entered there\n");
}

TEST_CASE("a unit and a tune are practised as lines, wherever the unit stands", "[cli]") {
    const MyLog my;
    CHECK_THAT(my.log("add 'ii-V-I in F' guide-tones --for trumpet --tempo 90").out,
               Catch::Contains("ii-V-I in F major, guide-tones (written G), trumpet"));
    CHECK_THAT(my.log("add 'minor-ii-V-i in c' guide-tones --tempo 90").out,
               Catch::Contains("ii\u00F8-V-i in C minor, guide-tones"));
    CHECK_THAT(my.log("add " + kSample + " unbroken-scale --bars 5-6").out,
               Catch::Contains("ii-V in G minor, "));
    // As the page has them, which plays into the goal.
    CHECK_THAT(my.log("add " + kSample + " guide-tones --bars 5-7").out,
               Catch::Contains("ii-V in G minor, "));
    CHECK_THAT(my.log("add " + kSample + " guide-tones --tempo 80").out, Catch::Contains("at 80 of 144"));
}

TEST_CASE("a unit has one name in the log, the list of units, the day and the book", "[cli][units]") {
    const MyLog my;
    const std::string tune = my.file("kite.tune");
    for (const auto& [bars, name] : {std::pair{"| Fmaj7 | Abm7 Db7 | Gm7 | F6 |", "ii-V in Gb major"},
                                     std::pair{"| Fmaj7 | Am7b5 D7b9 | Bbmaj7 | F6 |", "ii-V in G minor"}}) {
        save(tune, "Title: Kite\nKey: F\nTempo: 160\n" + std::string{bars} + "\n");
        INFO(name);
        CHECK_THAT(run_program("changes " + tune + " --units").out, Catch::Contains(name));
        CHECK_THAT(my.run("today", "--for flute --tune " + tune).out, Catch::Contains(name));
        REQUIRE(run_program("book " + tune + " --for flute -o " + my.file("book.musicxml")).exit_code == 0);
        CHECK_THAT(read_file(my.file("book.musicxml")), Catch::Contains(with_signs(name) + ", bar"));
        CHECK_THAT(my.log("add '" + std::string{name} + "' guide-tones --for flute").out,
                   Catch::Contains(std::string{name} + ", guide"));
        CHECK_THAT(my.run("progress", tune).out, Catch::Contains(name));
    }
}

TEST_CASE("a unit in minor is known by its sign and by the mode of its key", "[cli][units]") {
    const MyLog my;
    CHECK_THAT(my.log("add 'ii\u00F8-V in G' guide-tones --for flute").out,
               Catch::Contains("ii-V in G minor, guide"));
    CHECK_THAT(my.log("add 'ii-V-I in G minor' guide-tones --for flute").out,
               Catch::Contains("ii\u00F8-V-i in G minor, guide"));
}

TEST_CASE("what cannot be meant is said with what could be, and nothing is entered", "[cli]") {
    const MyLog my;
    const std::vector<std::pair<std::string, std::string>> faults{
        {"'Dbq7' thirds --for flute", "found 'q'"},
        {"'F lydain' thirds --for flute", "did you mean 'Lydian'?"},
        {"Db7 thrids --for flute", "did you mean 'thirds'?"},
        {"Db7 --for flute", "which drill"},
        {"Db7 thirds", "on which instrument?"},
        {"Db7 thirds --for flut", "did you mean 'flute'?"},
        {"Db7 thirds --for flute --tempo fast", "--tempo takes a number from 10 to 500"},
        {"Db7 thirds --for flute --tempo 5", "not '5'"},
        {"Db7 thirds --for flute --right -3", "--right takes"},
        {"Db7 thirds --for flute --minutes soon", "--minutes takes"},
        {"Db7 thirds --for flute --minutes 0", "--minutes takes"},
        {"Db7 thirds --for flute --on yesterdy", "did you mean 'yesterday'?"},
        {"Db7 thirds --for flute --on 2026-02-30", "is no day"},
        {"Db7 thirds --for flute --bars 5-6", "--bars belongs to a tune's file"},
        {"ii-V-I guide-tones --for flute", "\"ii-V-I in F\""},
        {"'ii-V-I in H' guide-tones --for flute", "'H' is no key"},
        {"'ii-W-I in F' guide-tones --for flute", "did you mean 'ii-v-i'?"},
        {"'ii-V-I in F' thirds --for flute", "no kind of etude is called 'thirds'"},
        {kSample + " guide-tones --bars 500 --for flute", "no unit of 'Ferry at Six' has the bars 500"},
        {"Db7 thirds --for flute --note \"$(printf 'a\\377b')\"", "no valid text"}};
    for (const auto& [arguments, message] : faults) {
        INFO(arguments);
        const Outcome run = my.log("add " + arguments);
        CHECK(run.exit_code == 1);
        CHECK_THAT(run.err, Catch::Contains(message));
        CHECK(run.out.empty());
    }
    CHECK(my.log("show --all-players --history").out == "nothing is entered there\n");
    CHECK(my.log("correct 1 --tempo 80").exit_code == 1);
    CHECK(my.log("forget").exit_code == 1);
    CHECK(my.log("export notes.txt").exit_code == 1);
}

TEST_CASE("an entry of a day ahead is kept, and said to be one", "[cli]") {
    const MyLog my;
    const Outcome run = my.log("add Db7 thirds --for flute --tempo 80 --on 2099-01-01");
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.err, Catch::Contains("still ahead"));
    CHECK_THAT(my.run("today", "--minutes 20").out, Catch::Contains("a later day"));
}

TEST_CASE("players do not see each other, and one is forgotten without the others", "[cli]") {
    const MyLog my;
    REQUIRE(my.log("add Db7 thirds --for flute --tempo 80 --player Ada").exit_code == 0);
    REQUIRE(my.log("add Db7 thirds --for flute --tempo 80").exit_code == 0);
    CHECK(count(my.log("show").out, "thirds") == 1);
    CHECK(count(my.log("show --all-players").out, "thirds") == 2);
    CHECK_THAT(my.log("forget --player Ade").err, Catch::Contains("did you mean 'Ada'?"));
    CHECK_THAT(my.log("forget --player Ada").out, Catch::Contains("forgotten: Ada, 1 entry"));
    CHECK(read_file(my.data()).find("Ada") == std::string::npos);
    CHECK(count(my.log("show --all-players").out, "thirds") == 1);
}

TEST_CASE("a log goes to another machine and back", "[cli]") {
    const MyLog my;
    REQUIRE(my.log("add Db7 thirds --for flute --tempo 80").exit_code == 0);
    REQUIRE(my.log("correct 1 --tempo 84").exit_code == 0);
    for (const char* name : {"log.csv", "log.json"}) {
        const MyLog other;
        REQUIRE(my.log("export " + my.file(name)).exit_code == 0);
        CHECK(std::filesystem::status(my.file(name)).permissions() == std::filesystem::perms{0600});
        CHECK_THAT(other.log("import " + my.file(name)).out, Catch::Contains("1 new, 1 corrections"));
        CHECK(other.log("show --json --history").out == my.log("show --json --history").out);
        CHECK_THAT(other.log("import " + my.file(name)).out, Catch::Contains("0 new"));
    }
    REQUIRE(my.log("backup " + my.file("copy.db")).exit_code == 0);
    CHECK(my.log("backup " + my.file("copy.db")).exit_code == 3);
    save(my.file("bad.csv"), "day,kind,subject,work,instrument\n2026-13-01,scale,dorian,thirds,flute\n");
    const Outcome run = my.log("import " + my.file("bad.csv"));
    CHECK(run.exit_code == 1);
    CHECK_THAT(run.err, Catch::Contains("bad.csv:2:1: error: day: expected a day as in 2027-01-20"));
}

TEST_CASE("a drill that is gone is kept in the log, and said to be gone", "[cli]") {
    const MyLog my;
    save(my.file("old.csv"),
         "day,kind,subject,root,work,instrument,tempo\n2026-11-01,scale,dorian,2,an-old-drill,flute,80\n");
    REQUIRE(my.log("import " + my.file("old.csv")).exit_code == 0);
    CHECK_THAT(my.log("show").out, Catch::Contains("(not known here any more; kept)"));
    CHECK_THAT(my.run("today", "--minutes 20").out, Catch::Contains("D Dorian, an-old-drill"));
    CHECK_THAT(my.run("progress", "--all").out, Catch::Contains("and kept: D Dorian, an-old-drill"));
}

TEST_CASE("a tune that was edited since keeps what was practised for it", "[cli]") {
    const MyLog my;
    save(my.file("kite.tune"), "Title: Kite\nKey: F\n| Gm7 | C7 | Fmaj7 | % |\n");
    REQUIRE(my.log("add " + my.file("kite.tune") + " guide-tones --bars 1-2 --for flute").exit_code == 0);
    save(my.file("kite.tune"), "Title: Kite\nKey: A\n| Bm7 | E7 | Amaj7 | % |\n");
    const Outcome run = my.run("progress", my.file("kite.tune"));
    INFO(run.out);
    CHECK_THAT(run.out,
               Catch::Contains("practised for this tune, and not in it now: ii-V-I in F major, guide-tones"));
    CHECK_THAT(run.out, Catch::Contains("ii-V-I in A major"));
}

TEST_CASE("a day has the minutes asked for, and is the same whenever it is asked", "[cli]") {
    const MyLog my;
    const std::string wish = "--for alto-sax --tune " + kSample + " --on 2026-11-29 --json";
    for (const char* level : {"1", "3", "6"}) {
        for (const char* minutes : {"5", "30", "90"}) {
            const std::string arguments = wish + " --minutes " + minutes + " --level " + level;
            const Outcome run = my.run("today", arguments);
            INFO(arguments << run.err);
            REQUIRE(run.exit_code == 0);
            CHECK(minutes_in(run.out) == std::stoi(minutes));
            CHECK(my.run("today", arguments).out == run.out);
        }
    }
    // Asking what to play makes no log.
    CHECK_FALSE(std::filesystem::exists(my.data()));
}

TEST_CASE("what was played yesterday comes back today, with its tempo", "[cli]") {
    const MyLog my;
    REQUIRE(my.log("add 'Db7#11' thirds --for alto-sax --tempo 80 --goal 100 --right 4 --on 2026-11-28")
                .exit_code == 0);
    const Outcome run = my.run("today", "--minutes 30 --on 2026-11-29");
    INFO(run.out);
    CHECK_THAT(run.out, Catch::Contains("Bb Lydian dominant, thirds (concert Db)"));
    CHECK_THAT(run.out, Catch::Contains("76 to 100 by 4"));
    CHECK_THAT(run.out, Catch::Contains("comes back after a day"));
    CHECK_THAT(run.out, Catch::Contains("Stop at pain"));
    CHECK(my.run("today", "--minutes 2").exit_code == 2);
    CHECK(my.run("today", "--minutes 30 --gig 2020-01-01").exit_code == 2);
}

TEST_CASE("the day is printed: its drills, each once, with boxes", "[cli]") {
    const MyLog my;
    const std::string wish = "--for alto-sax --tune " + kSample + " --on 2026-11-29 -o ";
    const Outcome run = my.run("today", wish + my.file("today.musicxml"));
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    const std::string page = read_file(my.file("today.musicxml"));
    CHECK(count(page, "from memory") >= 4);
    CHECK(count(page, "ii-V-I in D major") == 1);
    CHECK(my.run("today", wish + my.file("today.mid")).exit_code == 0);
    CHECK(my.run("today", wish + my.file("today.doc")).exit_code == 2);
}

TEST_CASE("an answer of the log says the written key too, where the instrument reads another", "[cli]") {
    const MyLog my;
    CHECK_THAT(my.log("add 'Eb major' range-scale --for alto-sax").out,
               Catch::Contains("Eb major, range-scale (written C), alto-sax"));
    CHECK_THAT(my.log("add 'Eb major' range-scale --for flute").out,
               Catch::Contains("Eb major, range-scale, flute"));
    CHECK_THAT(my.log("remove 1").out, Catch::Contains("Eb major, range-scale (written C), "));
}

TEST_CASE("what a page of a transposing instrument names is entered as it sounds", "[cli]") {
    const MyLog log;
    CHECK_THAT(log.log("add \"G mixolydian\" range-scale --written --for alto-sax --tempo 80").out,
               Catch::Contains("entered as 1: Bb Mixolydian, range-scale (written G)"));
    CHECK_THAT(log.log("add \"ii-V-I in C\" guide-tones --written --for trumpet --tempo 80").out,
               Catch::Contains("entered as 2: ii-V-I in Bb major, guide-tones (written C)"));
    CHECK_THAT(log.log("correct 1 --topic \"A mixolydian\" --written").out,
               Catch::Contains("C Mixolydian, range-scale (written A)"));
    // A tune's file has no written name, and a correction without a topic nothing to be read.
    CHECK_THAT(log.log("add " + kSample + " guide-tones --written --for trumpet").err,
               Catch::Contains("--written belongs to a chord, a scale or a unit"));
    CHECK_THAT(log.log("correct 1 --tempo 90 --written").err, Catch::Contains("--written belongs to"));
    CHECK_THAT(log.run("today", "--for alto-sax --tune " + kSample).out,
               Catch::Contains("and --written where you take these names"));
    CHECK_THAT(log.run("today", "--for flute --tune " + kSample).out, !Catch::Contains("--written"));
}

// The name of the chord is the chart's own; "G#dim7" for a tenor saxophone is a major second above F#dim7
// (MusicXML 4.0, "transpose").
TEST_CASE("a day and what is mastered name a scale as the chart writes its chord", "[cli]") {
    const MyLog my;
    const std::string tune = my.file("porch.tune");
    const std::string head = "Title: Porch\nKey: C\nTempo: 100\n| C7 | F7 | C7 | C7 | F7 | ";
    const std::string tail = " | C7 | A7b9 | Dm7 | G7 | C7 | G7 |\n";
    const auto day = [&](const std::string& options) {
        return my.run("today", "--minutes 90 " + options + " --tune " + tune).out;
    };
    save(tune, head + "F#dim7" + tail);
    CHECK_THAT(day("--for tenor-sax"),
               Catch::Contains("G# whole-half diminished") && Catch::Contains("(concert F#)"));
    CHECK_THAT(day("--for flute"), Catch::Contains("F# whole-half diminished"));
    CHECK_THAT(my.run("progress", tune + " --for flute").out, Catch::Contains("F# whole-half diminished"));
    CHECK_THAT(my.log("add F#dim7 thirds --for flute").out, Catch::Contains("F# whole-half diminished"));
    save(tune, head + "Gbdim7" + tail);
    CHECK_THAT(day("--for flute"), Catch::Contains("Gb whole-half diminished"));
}

TEST_CASE("a phrase is entered by its name, and the word alone is told where its boxes are", "[cli]") {
    const MyLog log;
    CHECK(log.log("add \"ii-V-I in F\" climbing-thirds --for flute --tempo 90").exit_code == 0);
    CHECK_THAT(log.log("add \"ii-V-I in F\" phrase --for flute").err, Catch::Contains("shedbook log ticks"));
}

TEST_CASE("drills and lines are known by the names that pages print", "[cli]") {
    const MyLog my;
    CHECK_THAT(
        my.run("log add", "'Eb major' 'The scale through the whole range' --for trumpet --tempo 72").out,
        Catch::Contains("Eb major, range-scale"));
    CHECK_THAT(my.run("log add", "'ii-V-I in F' 'One line through the changes' --for trumpet --tempo 72").out,
               Catch::Contains("ii-V-I in F major, unbroken-scale"));
}

TEST_CASE("what is mastered is said and drawn", "[cli]") {
    const MyLog my;
    for (const char* day : {"2026-11-01", "2026-11-02", "2026-11-05"})
        REQUIRE(
            my.log("add 'F lydian' thirds --for flute --tempo 100 --goal 100 --right 5 --from-memory --on " +
                   std::string{day})
                .exit_code == 0);
    const Outcome one = my.run("progress", "'F lydian' --level 3 -o " + my.file("f.svg"));
    INFO(one.out << one.err);
    REQUIRE(one.exit_code == 0);
    // One fluent drill of the six of level 3.
    CHECK_THAT(one.out, Catch::Contains("F Lydian, flute: 16 %"));
    CHECK_THAT(one.out, Catch::Contains("fluent       clean at 100 of 100"));
    CHECK_THAT(read_file(my.file("f.svg")), Catch::Contains("<circle"));
    CHECK(my.run("progress", "--all -o " + my.file("all.svg")).exit_code == 0);
    if (find_program("rsvg-convert")) {
        // ISO 32000-1, 7.5.2, and the PNG specification (W3C), 5.2: what such files begin with.
        CHECK(my.run("progress", "--all -o " + my.file("all.pdf")).exit_code == 0);
        CHECK_THAT(read_file(my.file("all.pdf")), Catch::StartsWith("%PDF-"));
        CHECK(my.run("progress", "--all -o " + my.file("all.png")).exit_code == 0);
        CHECK_THAT(read_file(my.file("all.png")), Catch::StartsWith("\x89PNG"));
    }
    CHECK(my.run("progress", "--all -o " + my.file("all.txt")).exit_code == 2);
    CHECK_THAT(read_file(my.file("all.svg")), Catch::Contains(">Lydian<"));
    CHECK_THAT(my.run("progress", kSample + " --json").out, Catch::Contains("\"group\":\"units\""));
    CHECK(my.run("progress", "").exit_code == 2);
    CHECK(my.run("progress", "--all -o all.doc").exit_code == 2);
}

TEST_CASE("each line of a section on a unit is entered for that unit, not for the tune", "[cli]") {
    const MyLog my;
    REQUIRE(setenv("SHEDBOOK_DATA", my.data().c_str(), 1) == 0);
    // Units that are played some bars longer than they are, in openings and on shared pages.
    save(my.file("quay.tune"),
         "Title: Quay\nKey: F\nTempo: 112\n[A]\n| Fmaj7 | Abm7 Db7 | Gm7 | C7 |\n| Am7b5 | D7(b9) | Gm9 | "
         "C13 |\n"
         "[A2]\n| Fmaj7 | Abm7 Db7 | Gm7 | C7 |\n| Am7b5 D7alt | Gm7 C7 | F6 | % |\n"
         "[B]\n| Cm7 | F7 | Bbmaj7 | Bbm6 Eb7 |\n| Amaj7 | F#m7 | Bm7b5 E7 | Gm7/C C7(b9) |\n");
    REQUIRE(
        run_program("book " + my.file("quay.tune") + " --for trumpet -o " + my.file("book.mxl")).exit_code ==
        0);
    const std::vector<std::string> codes = codes_in(my.file("pages"));
    REQUIRE(codes.size() == 1);
    Diagnostics diagnostics;
    const auto pages =
        read_pages(SourceText{"table", read_file(my.file("pages/" + codes.front() + ".json"))}, diagnostics);
    REQUIRE(pages);
    int on_units = 0;
    for (const PrintedPiece& piece : pages->pieces) {
        // Lines through the form have a number of their own: "10".
        const bool is_in_section = piece.number.find('.') != std::string::npos;
        INFO(piece.number << " " << piece.item.work);
        CHECK((piece.item.kind == ItemKind::Etude) == !is_in_section);
        on_units += piece.item.kind == ItemKind::Unit ? 1 : 0;
    }
    CHECK(on_units > 20);
}

TEST_CASE("what was ticked on a printed book is typed as one line", "[cli]") {
    const MyLog my;
    REQUIRE(setenv("SHEDBOOK_DATA", my.data().c_str(), 1) == 0);
    REQUIRE(run_program("book " + kSample + " --for alto-sax -o " + my.file("book.musicxml")).exit_code == 0);
    const std::vector<std::string> codes = codes_in(my.file("pages"));
    REQUIRE(codes.size() == 1);
    const std::string& code = codes.front();
    const std::string table = my.file("pages/" + code + ".json");
    Diagnostics diagnostics;
    const auto pages = read_pages(SourceText{"table", read_file(table)}, diagnostics);
    REQUIRE(pages);
    // Lines on units, drills on scales and lines through the form.
    for (const ItemKind kind : {ItemKind::Unit, ItemKind::Scale, ItemKind::Etude}) {
        const auto piece = std::ranges::find_if(pages->pieces, [&](const PrintedPiece& each) {
            return each.item.kind == kind && !each.boxes.empty();
        });
        REQUIRE(piece != pages->pieces.end());
        const std::string ticks = piece->number + "@" + std::to_string(piece->boxes.back()) + "m";
        const Outcome run = run_program("log ticks " + lower_case(code) + " " + ticks);
        INFO(run.out << run.err);
        CHECK(run.exit_code == 0);
        CHECK_THAT(run.out, Catch::Contains(", " + piece->item.work) && Catch::Contains(", alto-sax;"));
        CHECK_THAT(run.out, Catch::Contains("now from memory"));
    }
    CHECK_FALSE(pages->pieces.empty());
    CHECK(run_program("log ticks ZZZZZZ 1.1m").exit_code == 1);
    CHECK_THAT(run_program("log ticks " + code + " 99.9m").err, Catch::Contains("no piece 99.9"));
    CHECK_THAT(run_program("log ticks " + code + " 1.1@3m").err, Catch::Contains("no box at 3"));
    CHECK(count(run_program("log show").out, "alto-sax") == 3);
    // The same on another machine, with the table brought along.
    save(my.file("evening.txt"), "# after supper\n" + code + " " + pages->pieces.front().number + "m\n");
    const MyLog other;
    REQUIRE(setenv("SHEDBOOK_DATA", other.data().c_str(), 1) == 0);
    CHECK_THAT(run_program("log ticks " + my.file("evening.txt")).err, Catch::Contains("made elsewhere"));
    CHECK(run_program("log ticks " + my.file("evening.txt") + " --pages " + table).exit_code == 0);
    unsetenv("SHEDBOOK_DATA");
}

TEST_CASE("each student of a class has a day, and the teacher sees the week", "[cli]") {
    const MyLog my;
    save(my.file("class.toml"),
         "level = 2\n[[student]]\nname = \"Ada Lind\"\ninstrument = \"alto-sax\"\n[[student]]\n"
         "name = \"Bruno Quast\"\ninstrument = \"trumpet\"\nlevel = 1\n");
    REQUIRE(
        my.log("add 'F major' octave-scale --for alto-sax --player 'Ada Lind' --tempo 80 --minutes 12 --on "
               "2026-11-28")
            .exit_code == 0);
    const Outcome run = my.run("today", "--roster " + my.file("class.toml") +
                                            " --on 2026-11-29 --minutes 20 -o " + my.file("day.musicxml"));
    INFO(run.out << run.err);
    REQUIRE(run.exit_code == 0);
    CHECK_THAT(run.out,
               Catch::Contains("Ada Lind, Alto Saxophone, level 2\n  in seven days 12 minutes on 1 day; last "
                               "on Sat 28 Nov; 1 slow\n"));
    CHECK_THAT(run.out,
               Catch::Contains("Bruno Quast, Trumpet in B-flat, level 1\n  in seven days 0 minutes on 0 "
                               "days; nothing entered yet\n"));
    CHECK_THAT(run.out, Catch::Contains("D major, octave-scale (concert F)"));
    CHECK(std::filesystem::exists(my.file("day-01-ada-lind-alto-sax.musicxml")));
    CHECK(std::filesystem::exists(my.file("day-02-bruno-quast-trumpet.musicxml")));
    CHECK(my.run("today", "--roster " + my.file("class.toml") + " --for flute").exit_code == 2);
    CHECK(my.run("today", "--roster " + my.file("nowhere.toml")).exit_code == 3);
}

TEST_CASE("the books of a class have their codes too", "[cli]") {
    const MyLog my;
    save(my.file("class.toml"),
         "level = 2\n[[student]]\nname = \"Ada Lind\"\ninstrument = \"alto-sax\"\n[[student]]\n"
         "name = \"Bruno Quast\"\ninstrument = \"trumpet\"\n");
    REQUIRE(setenv("SHEDBOOK_DATA", my.data().c_str(), 1) == 0);
    CHECK(run_program("class " + my.file("class.toml") + " " + kSample + " -o " + my.file("lesson"))
              .exit_code == 0);
    CHECK(codes_in(my.file("pages")).size() == 2);
    unsetenv("SHEDBOOK_DATA");
}

}  // namespace shedbook
