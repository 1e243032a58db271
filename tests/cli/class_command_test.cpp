#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <ostream>
#include <set>
#include <string>
#include <vector>

#include "count_text.h"
#include "program.h"
#include "scratch_folder.h"
#include "shedbook/book/roster.h"
#include "shedbook/chart/score_notes.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

const std::string kTune =
    "Title: Blue Door\nKey: Bb\nMeter: 4/4\n| Cm7 | F7 | Bbmaj7 | G7 |\n| Cm7 | F7 | Bb6 | Bb6 |\n";
const std::string kThree =
    "level = 3\n[[student]]\nname = \"Ada Lind\"\ninstrument = \"alto-sax\"\n[[student]]\nname = \"Bo\"\n"
    "instrument = \"trombone\"\n[[student]]\nname = \"Cleo\"\ninstrument = \"trumpet\"\n";

class ClassRun {
  public:
    Outcome operator()(const std::string& roster, const std::string& options = {}) {
        write("r.toml", roster);
        write("a.tune", kTune);
        return run_program("class " + folder_.file("r.toml") + " " + folder_.file("a.tune") + " -o " +
                           folder_.file("out") + " " + options);
    }
    void write(const std::string& name, const std::string& text) {
        write_atomically(folder_.file(name), [&](std::ostream& out) { out << text; });
    }
    [[nodiscard]] std::set<std::string> files() const {
        std::set<std::string> out;
        if (!std::filesystem::exists(folder_.file("out"))) return out;
        for (const auto& entry : std::filesystem::directory_iterator{folder_.file("out")})
            out.insert(entry.path().filename().string());
        return out;
    }
    [[nodiscard]] std::string content(const std::string& name) const {
        return read_file(folder_.file("out/" + name));
    }
    [[nodiscard]] ScoreNotes part(const std::string& file, const std::string& id) const {
        Diagnostics diagnostics;
        const auto out = read_score_notes(file, content(file), {id}, diagnostics);
        REQUIRE(out);
        REQUIRE_FALSE(diagnostics.has_errors());
        return *out;
    }

  private:
    ScratchFolder folder_;
};

// When what sounds begins and which note it is, octaves aside.
std::vector<std::pair<Position, int>> as_heard(const ScoreNotesBar& bar) {
    std::vector<std::pair<Position, int>> out;
    for (const ScoreNote& note : bar.notes) out.emplace_back(note.at, note.sounding.midi() % 12);
    return out;
}

bool all_in(const ScoreNotes& score, const std::string& instrument, const std::string& range) {
    const WrittenRange written = *parse_range(range, *find_instrument(instrument));
    bool out = true;
    for (const ScoreNotesBar& bar : score.bars) {
        for (const ScoreNote& note : bar.notes) {
            const int midi = note.written.midi();
            out = out && midi >= written.low.on_paper().midi() && midi <= written.high.on_paper().midi();
        }
    }
    return out;
}

}  // namespace

TEST_CASE("class writes a book for every student and the teacher's score, and a table", "[cli]") {
    ClassRun run;
    const Outcome done = run(kThree);
    CHECK(done.exit_code == 0);
    // No progress line where standard error is no terminal.
    CHECK(done.err.empty());
    CHECK(run.files() == std::set<std::string>{"00-score-thirds.mxl", "01-ada-lind-alto-sax.mxl",
                                               "02-bo-trombone.mxl", "03-cleo-trumpet.mxl"});
    CHECK(done.out.find("Ada Lind     Alto Saxophone     3") != std::string::npos);
    CHECK(done.out.find("02-bo-trombone.mxl\n") != std::string::npos);
    CHECK(all_in(run.part("03-cleo-trumpet.mxl", {}), "trumpet", level(3).range));
}

TEST_CASE("the parts of the teacher's score sound the same notes bar by bar, and break alike", "[cli]") {
    ClassRun run;
    // Two alto players of different range have one part that both can play.
    REQUIRE(run(kThree +
                    "[[student]]\nname = \"Dot\"\ninstrument = \"alto-sax\"\nrange = \"D4-D6\"\n[[student]]\n"
                    "name = \"Eli\"\ninstrument = \"guitar\"\nlevel = 5\n",
                "--as musicxml --score thirds")
                .exit_code == 0);
    const std::string file = "00-score-thirds.musicxml";
    const std::vector<std::string> ids{"P1", "P2", "P3", "P4"};
    const ScoreNotes first = run.part(file, ids[0]);
    REQUIRE(first.bars.size() > 8);
    CHECK(all_in(first, "alto-sax", "D4-D6"));
    std::size_t notes = 0;
    for (const std::string& id : ids) {
        const ScoreNotes part = run.part(file, id);
        REQUIRE(part.bars.size() == first.bars.size());
        for (std::size_t bar = 0; bar < part.bars.size(); ++bar) {
            INFO(id << " bar " << bar + 1);
            CHECK(as_heard(part.bars[bar]) == as_heard(first.bars[bar]));
            CHECK(part.bars[bar].key_fifths == 0);
            CHECK(part.bars[bar].chords.size() == first.bars[bar].chords.size());
            notes += part.bars[bar].notes.size();
        }
    }
    CHECK(notes > 4 * 8 * first.bars.size() / 2);
    const std::string text = run.content(file);
    CHECK(count(text, "<score-part ") == ids.size());
    CHECK(count(text, "<part id=") == ids.size());
    for (const char* const in_every_part : {"<measure number=\"3\">", "new-page=\"yes\">"})
        CHECK(count(text, in_every_part) % ids.size() == 0);
    CHECK(count(text, "<print new-page=\"yes\">") > 0);
    // Titles stand once, over the first staff.
    CHECK(count(text, "In thirds") == count(text, "<rehearsal"));
}

TEST_CASE("the score as pages has the parts, bars and page turns of the MusicXML", "[cli]") {
    ClassRun run;
    REQUIRE(run(kThree, "--score thirds --as ly").exit_code == 0);
    REQUIRE(run(kThree, "--score thirds --as musicxml").exit_code == 0);
    const std::string pages = run.content("00-score-thirds.ly");
    const std::string score = run.content("00-score-thirds.musicxml");
    const std::size_t pieces = count(score, "<rehearsal");
    CHECK(count(pages, "\\new StaffGroup") == pieces);
    CHECK(count(pages, "\\new Staff \\with") == 3 * pieces);
    CHECK(count(pages, "\\pageBreak") * 3 == count(score, "new-page=\"yes\">"));
    CHECK(count(pages, "\\break") * 3 + pieces * 3 - 3 ==
          count(score, "new-system=\"yes\">") + count(score, "new-page=\"yes\">"));
    // The first staff of the last piece says which bar it begins with.
    const std::string last = "rehearsal font-weight=\"bold\">" + std::to_string(pieces) + ".1<";
    const std::size_t at = score.rfind("<measure number=\"", score.find(last)) + 17;
    CHECK(pages.find("currentBarNumber = #" + score.substr(at, score.find('"', at) - at)) !=
          std::string::npos);
}

TEST_CASE("class writes nothing where a row is at fault, and the others when told to keep going", "[cli]") {
    ClassRun run;
    const std::string with_fault = kThree + "[[student]]\nname = \"Dot\"\ninstrument = \"kazooo\"\n";
    const Outcome stopped = run(with_fault);
    CHECK(stopped.exit_code == 1);
    CHECK(stopped.err.find("r.toml:13:14: error: no instrument is called 'kazooo'") != std::string::npos);
    CHECK(run.files().empty());
    const Outcome kept = run(with_fault, "--keep-going");
    CHECK(kept.exit_code == 1);
    CHECK(kept.err.find("kazooo") != std::string::npos);
    CHECK(kept.out.find("students at fault: 4 of 4") != std::string::npos);
    CHECK(run.files().size() == 4);
    // A file that is there already stays whole when the run stops.
    const std::string before = run.content("02-bo-trombone.mxl");
    CHECK(run(with_fault).exit_code == 1);
    CHECK(run.content("02-bo-trombone.mxl") == before);
}

TEST_CASE("class says what fits nobody, and what it cannot write", "[cli]") {
    ClassRun run;
    const std::string narrow =
        kThree + "[[student]]\nname = \"Dot\"\ninstrument = \"flute\"\nrange = \"C5-F5\"\n";
    const Outcome no_score = run(narrow);
    CHECK(no_score.exit_code == 1);
    CHECK(no_score.err.find("does not fit the notes that the whole class has") != std::string::npos);
    CHECK(run.files().empty());
    const Outcome books_only = run(narrow, "--no-score");
    CHECK(books_only.exit_code == 0);
    CHECK(books_only.out.find("Dot: 'In thirds' is left out") != std::string::npos);
    CHECK(run.files().size() == 4);
    CHECK(run(kThree, "--as mid").exit_code == 2);
    CHECK(run(kThree, "--score thrids").err.find("did you mean 'thirds'?") != std::string::npos);
    CHECK(run(kThree, "--score thirds --no-score").exit_code == 2);
    CHECK(run_program("class none.toml none.tune -o out").exit_code == 3);
}

TEST_CASE("a plan of the roster may be a file beside it", "[cli]") {
    ClassRun run;
    const std::string roster =
        "[[student]]\nname = \"Ada\"\ninstrument = \"flute\"\nlevel = 3\nplan = \"mine.toml\"\n";
    CHECK(run(roster).exit_code == 3);
    run.write("mine.toml",
              "[[plan]]\nid = \"mine\"\ntitle = \"Mine\"\n[[plan.sitting]]\ntitle = \"Monday\"\n"
              "most = 1\ndrills = [\"sevenths\"]\n");
    const Outcome done = run(roster, "--no-score");
    CHECK(done.exit_code == 0);
    CHECK(run.files() == std::set<std::string>{"01-ada-flute.mxl"});
    const ScoreNotes book = run.part("01-ada-flute.mxl", {});
    CHECK(std::ranges::count_if(book.bars, [](const ScoreNotesBar& bar) { return bar.starts_piece; }) == 1);
}

TEST_CASE("faults of the tune do not hide those of the roster", "[cli]") {
    ScratchFolder folder;
    write_atomically(folder.file("a.tune"), [](std::ostream& out) { out << "| Gx7 |\n"; });
    write_atomically(folder.file("r.toml"), [](std::ostream& out) { out << "[[student]]\nname = \"A\"\n"; });
    const Outcome done = run_program("class " + folder.file("r.toml") + " " + folder.file("a.tune") + " -o " +
                                     folder.file("out"));
    CHECK(done.exit_code == 1);
    CHECK(done.err.find("a.tune:1:") != std::string::npos);
    CHECK(done.err.find("this student has no 'instrument'") != std::string::npos);
}

TEST_CASE("what cannot be written leaves no half file behind, and stops the run or is passed over", "[cli]") {
    // A folder in the place of a book: it cannot be replaced by a file.
    ScratchFolder other;
    std::filesystem::create_directories(other.file("02-bo-trombone.mxl/inside"));
    const auto again = [&](const std::string& options) {
        write_atomically(other.file("r.toml"), [&](std::ostream& out) { out << kThree; });
        write_atomically(other.file("a.tune"), [&](std::ostream& out) { out << kTune; });
        return run_program("class " + other.file("r.toml") + " " + other.file("a.tune") + " -o " +
                           other.file("") + " " + options);
    };
    CHECK(again("").exit_code == 3);
    CHECK_FALSE(std::filesystem::exists(other.file("03-cleo-trumpet.mxl")));
    const Outcome kept = again("--keep-going");
    CHECK(kept.exit_code == 3);
    CHECK(kept.out.find("not written") != std::string::npos);
    CHECK(std::filesystem::exists(other.file("03-cleo-trumpet.mxl")));
    // Roster, tune, score, two books, the folder in the way; nothing else.
    CHECK(other.count_files() == 6);
}

TEST_CASE("a class of thirty is one run, the same bytes every time", "[cli]") {
    const std::vector<std::string> kInstruments{"flute",  "clarinet", "alto-sax",    "tenor-sax", "trumpet",
                                                "guitar", "trombone", "double-bass", "violin",    "piano"};
    std::string roster;
    for (int i = 0; i < 30; ++i) {
        roster += "[[student]]\nname = \"Player " + std::to_string(i % 7) + "\"\ninstrument = \"" +
                  kInstruments[static_cast<std::size_t>(i) % kInstruments.size()] +
                  "\"\nlevel = " + std::to_string(1 + i % 6) + "\n";
    }
    ClassRun run;
    const Outcome done = run(roster);
    CHECK(done.err == "");
    CHECK(done.exit_code == 0);
    const std::set<std::string> files = run.files();
    CHECK(files.size() == 31);
    CHECK(files.contains("30-player-1-piano.mxl"));
    const std::string book = run.content("17-player-2-trombone.mxl");
    const std::string score = run.content(*files.begin());
    REQUIRE(run(roster).exit_code == 0);
    CHECK(run.content("17-player-2-trombone.mxl") == book);
    CHECK(run.content(*files.begin()) == score);
}

TEST_CASE("a class is read from a spreadsheet's table as from a list", "[cli][class]") {
    const ScratchFolder folder;
    save(folder.file("a.tune"), "Title: Blue Door\nKey: Bb\n| Cm7 | F7 | Bbmaj7 | G7 |\n");
    save(folder.file("c.csv"),
         "Instrument;Name;Level;E-Mail\nalto-sax;\"Lind; Ada\";3;a@b\n\nTrumpet;Bo;2;\n");
    const auto make = [&](const std::string& list) {
        return run_program("class " + folder.file(list) + " " + folder.file("a.tune") + " --as ly -o " +
                           folder.file("out"));
    };
    const Outcome done = make("c.csv");
    CHECK(done.exit_code == 0);
    CHECK_THAT(done.err, Catch::Contains("this column is read past"));
    CHECK(std::filesystem::exists(folder.file("out/01-lind-ada-alto-sax.ly")));
    CHECK(std::filesystem::exists(folder.file("out/02-bo-trumpet.ly")));
    save(folder.file("d.csv"), "Ada,alto-sax,3\n");
    CHECK_THAT(make("d.csv").err, Catch::Contains("the first line does not name the columns"));
    save(folder.file("d.csv"), "name,instrumnt,level\nAda,alto-sax,3\n");
    CHECK_THAT(make("d.csv").err,
               Catch::Contains("d.csv:1:6") && Catch::Contains("did you mean 'instrument'?"));
    save(folder.file("d.csv"), "name,instrument,level\nAda,alto-sex,3\nBo,flute,9\n");
    CHECK_THAT(make("d.csv").err, Catch::Contains("d.csv:2:5") && Catch::Contains("d.csv:3:10"));
    save(folder.file("d.csv"), "name,instrument,level\n");
    CHECK_THAT(make("d.csv").err, Catch::Contains("this roster has no student"));
}

}  // namespace shedbook
