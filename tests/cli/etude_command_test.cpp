#include <catch2/catch.hpp>
#include <filesystem>
#include <ostream>
#include <string>
#include <utility>

#include "count_text.h"
#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

const std::string kTwoDoors =
    "Title: Blue Door\nKey: Bb\nMeter: 4/4\n| Cm7 | F7 | Bbmaj7 | G7 |\n| Cm7 | F7 | Bb6 | Bb6 |\n";

class EtudeRun {
  public:
    EtudeRun() {
        write_atomically(folder_.file("a.tune"), [](std::ostream& out) { out << kTwoDoors; });
    }
    // The score, as text; what went wrong is in `outcome`.
    std::string operator()(const std::string& options) {
        outcome = run_program("etude " + folder_.file("a.tune") + " --for alto-sax " + options + " -o " +
                              folder_.file("e.musicxml"));
        return outcome.exit_code == 0 ? read_file(folder_.file("e.musicxml")) : std::string{};
    }
    Outcome outcome;

  private:
    ScratchFolder folder_;
};

}  // namespace

TEST_CASE("etude writes a composed etude, the same for the same seed", "[cli]") {
    EtudeRun etude;
    const std::string first = etude("--seed 7");
    REQUIRE_FALSE(first.empty());
    CHECK(first.find("composed etude") != std::string::npos);
    CHECK(count(first, "<measure ") == 8);
    CHECK(first == etude("--seed 7"));
    CHECK(first != etude("--seed 8"));
}

TEST_CASE("etude takes kinds, bars, choruses and words under the staff", "[cli]") {
    EtudeRun etude;
    CHECK(count(etude("--kind guide-tones --level 1 --chorus 3"), "<measure ") == 24);
    CHECK(count(etude("--kind targets --bars 2-3 --chorus 2"), "<measure ") == 4);
    CHECK(etude("--kind targets --start 2 --end 3") == etude("--kind targets --bars 2-3"));
    CHECK(count(etude("--kind targets --start 7"), "<measure ") == 2);
    CHECK(etude("--kind targets --explain").find("target: ") != std::string::npos);
    CHECK(etude("--kind targets").find("target: ") == std::string::npos);
    // The last of the four bars of answers is written: somebody must come home.
    CHECK(count(etude("--kind call-and-answer"), "<notehead>slash") == 12);
    CHECK_FALSE(etude("--kind cell --cell \"1 3 5 6\" --density busy --feel straight --scales rich").empty());
}

TEST_CASE("etude explains its kinds and what it does not understand", "[cli]") {
    const Outcome kinds = run_program("etude --kinds");
    CHECK(kinds.exit_code == 0);
    CHECK(kinds.out.find("call-and-answer: Two bars are written") != std::string::npos);
    CHECK(kinds.out.find("  level 6: ") != std::string::npos);
    EtudeRun etude;
    for (const auto& [options, says] :
         {std::pair{"--kind composd", "no kind of etude is called 'composd'; did you mean 'composed'?"},
          std::pair{"--density bussy", "did you mean 'busy'?"},
          std::pair{"--feel waltz", "--feel takes swing"},
          std::pair{"--kind cell --cell \"1 b3\"", "write 3, not b3"},
          std::pair{"--cell \"1 3\"", "--cell belongs to --kind cell"},
          std::pair{"--bars 90-91", "there is no chord in those bars of 'Blue Door'"},
          std::pair{"--bars 1-2 --start 3", "say the bars once"},
          std::pair{"--range C5-E5", "a --range of 12 half steps"}, std::pair{"--level 9", "--level"},
          std::pair{"--chorus 0", "--chorus"}}) {
        INFO(options);
        CHECK(etude(options).empty());
        CHECK(etude.outcome.exit_code == 2);
        CHECK(etude.outcome.err.find(says) != std::string::npos);
    }
}

}  // namespace shedbook
