// How many pages a book by units has: those of the engraver's text, which says on which page each part
// begins.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <string>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

const std::string kFerry = std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/ferry-at-six.tune";

namespace fs = std::filesystem;

// The page of the log, which is the last.
int last_page(const std::string& pages) {
    constexpr std::string_view kPage = "first-page-number = #";
    const std::size_t at = pages.rfind(kPage);
    return at == std::string::npos ? 0 : std::stoi(pages.substr(at + kPage.size()));
}

// Of pieces and lines on the form, in the order of the pages.
std::vector<std::pair<int, int>> numbers_on(const std::string& pages) {
    static const std::regex kNumber{
        R"re(\\dnum "([0-9]+)\.([0-9]+)"|\\fontsize #5 \{ \\bold "([0-9]+)" \\hspace #1)re"};
    std::vector<std::pair<int, int>> out;
    for (std::sregex_iterator it{pages.begin(), pages.end(), kNumber}; it != std::sregex_iterator{}; ++it)
        out.emplace_back(std::stoi((*it)[1].matched ? (*it)[1] : (*it)[3]),
                         (*it)[2].matched ? std::stoi((*it)[2]) : 0);
    return out;
}

}  // namespace

TEST_CASE("the numbers of a book by units rise from page to page, on any paper, alike for all who play it",
          "[cli][units]") {
    const ScratchFolder folder;
    const std::string file = folder.file("book.ly");
    for (const auto& entry : fs::directory_iterator(fs::path{SHEDBOOK_SOURCE_DIR} / "sample-charts")) {
        if (entry.path().extension() != ".tune") continue;
        const std::string book = "book " + entry.path().string() + " --for alto-sax,piano -o " + file;
        std::vector<std::pair<int, int>> of_first;
        for (const std::string paper : {"a4", "tablet"}) {
            INFO(entry.path().filename() << " on " << paper);
            REQUIRE(run_program(book + " --paper " + paper).exit_code == 0);
            for (const char* instrument : {"alto-sax", "piano"}) {
                const auto numbers =
                    numbers_on(read_file(folder.file(std::string{"book-"} + instrument + ".ly")));
                CHECK(numbers.size() > 8);
                CHECK(std::ranges::is_sorted(numbers));
                if (of_first.empty()) of_first = numbers;
                CHECK(numbers.front() == of_first.front());
                CHECK(numbers.back() == of_first.back());
            }
        }
    }
}

TEST_CASE("a book by units has twenty pages at most, and none that is empty", "[cli][units]") {
    constexpr std::array kInstruments{"alto-sax", "trombone", "piano", "double-bass"};
    const ScratchFolder folder;
    const std::string file = folder.file("book.ly");
    std::size_t turn = 0;
    for (const auto& entry : fs::directory_iterator(fs::path{SHEDBOOK_SOURCE_DIR} / "sample-charts")) {
        if (entry.path().extension() != ".tune") continue;
        const std::string instrument = kInstruments[turn++ % kInstruments.size()];
        INFO(entry.path().filename() << " for " << instrument);
        REQUIRE(
            run_program("book " + entry.path().string() + " --for " + instrument + " -o " + file).exit_code ==
            0);
        const std::string pages = read_file(file);
        const int last = last_page(pages);
        CHECK(last >= 8);
        CHECK(last <= 20);
        CHECK(pages.find("\"Notes\"\n") == std::string::npos);
    }
    CHECK(turn > 10);
}

TEST_CASE("a long tune with many hard places still has twenty pages, and names what has none",
          "[cli][units]") {
    const ScratchFolder folder;
    const std::string tune = folder.file("rungs.tune");
    save(
        tune,
        "Title: Many Rungs\nKey: Bb\nMeter: 4/4\nTempo: 152\n[A]\n| Bbmaj7 | Bdim7 | Cm7 | F7 |\n"
        "| Dm7b5 | G7b9 | Cm7 | Ebm7 Ab7 |\n| Bbmaj7 | Em7b5 A7 | Dm7 | Db7 |\n"
        "|1. Cm7 | F7 | Bbmaj7 G7 | Cm7 F7 :|\n|2. Cm7 | F7b9 | Bb6 | % ||\n[B]\n"
        "| Fm7 | Bb7 | Ebmaj7 | % |\n| Ebm7 | Ab7 | Dbmaj7 | Cm7b5 F7alt |\n[C]\n"
        "| Bbmaj7 | Bdim7 | Cm7 | F7 |\n| Dm7b5 | G7b9 | Cm7 | Ebm7 Ab7 |\n| Dm7 G7 | Cm7 F7 | Bb6 | % |]\n");
    const std::string file = folder.file("book.ly");
    for (const std::string instrument : {"tenor-sax", "guitar", "double-bass", "piano"}) {
        INFO(instrument);
        REQUIRE(run_program("book " + tune + " --for " + instrument + " -o " + file).exit_code == 0);
        const std::string pages = read_file(file);
        CHECK(last_page(pages) <= 20);
        CHECK(last_page(pages) >= 15);
        CHECK_THAT(pages, Catch::Contains("changes only"));
    }
}

TEST_CASE("a page says which scales have drills, where some stand in the table only", "[cli][units]") {
    const ScratchFolder folder;
    const std::string tune = folder.file("two.tune");
    const std::string file = folder.file("book.ly");
    const auto pages_of = [&](const std::string& bars) {
        save(tune, "Title: Two\nKey: C\n" + bars);
        REQUIRE(run_program("book " + tune + " --for flute -o " + file).exit_code == 0);
        return read_file(file);
    };
    const std::string few = pages_of("| Dm7 | G7 | Cmaj7 | % |\n");
    CHECK_THAT(few, Catch::Contains("Scales with drills") && !Catch::Contains("else only here"));
    const std::string many = pages_of(
        "| Abm7 Db7 | Gm7b5 C7alt | F#m7 B7#11 | Em7 A7b9 | Ebdim7 | Ebmaj7#11 |\n"
        "| Dm7b5 | G7#5 | Cmaj7 | Fm6 Bb13 |\n");
    CHECK_THAT(many, Catch::Contains("its drills; \\\"as X\\\": the same notes; else only here") &&
                         Catch::Contains("Scales with drills; the others: page "));
}

TEST_CASE("a book is by units unless it is asked for what only one by chords can do", "[cli][units]") {
    const ScratchFolder folder;
    const std::string tune = std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/ferry-at-six.tune";
    const std::string file = folder.file("book.ly");
    const std::string units = "where it is hard";
    CHECK(run_program("book " + tune + " --for flute -o " + file).exit_code == 0);
    CHECK_THAT(read_file(file), Catch::Contains(units));
    for (const char* option : {"--drills thirds", "--chords Gm7", "--memory symbol", "--by chord"}) {
        INFO(option);
        CHECK(run_program("book " + tune + " --for flute " + option + " -o " + file).exit_code == 0);
        CHECK_THAT(read_file(file), !Catch::Contains(units));
    }
}

TEST_CASE("a book by units says which options it has no use for", "[cli][units]") {
    for (const char* option :
         {"--plan scale-a-week", "--drills thirds", "--bars 1-4", "--chords Dm7", "--all"}) {
        const Outcome outcome =
            run_program("book " + kFerry + " --for alto-sax --by unit -o x.mxl " + option);
        INFO(option);
        CHECK(outcome.exit_code != 0);
        CHECK_THAT(outcome.err, Catch::Contains("leave out --"));
    }
}

TEST_CASE("an unknown way to make a book is said with those that there are", "[cli][units]") {
    const Outcome outcome = run_program("book " + kFerry + " --for alto-sax --by bar -o x.mxl");
    CHECK(outcome.exit_code != 0);
    CHECK_THAT(outcome.err, Catch::Contains("--by takes chord, unit"));
}

TEST_CASE("drills on a unit say which options they have no use for, and take a unit of one's own",
          "[cli][units]") {
    const ScratchFolder folder;
    const std::string out = " --for trumpet -o " + folder.file("x.musicxml");
    for (const char* option : {"--drills thirds", "--rhythm triplets", "--octaves all", "Dm7"}) {
        const Outcome outcome = run_program(std::string{"drills --unit V-I "} + option + out);
        INFO(option);
        CHECK(outcome.exit_code != 0);
        CHECK_THAT(outcome.err, Catch::Contains("leave out"));
    }
    CHECK(run_program("drills" + out).exit_code != 0);
    CHECK(folder.count_files() == 0);
    const std::string own = folder.file("own.toml");
    save(own, "[[unit]]\nid = \"two-bars-of-home\"\nunit = \"V-I\"\nbars = \"| G7 | C6 |\"\n");
    CHECK(run_program("drills --unit two-bars-of-home --template " + own + out).exit_code == 0);
    save(own, "[[unit]]\nid = \"broken\"\nunit = \"V-I\"\nbars = \"| G7q |\"\n");
    const Outcome broken = run_program("drills --unit V-I --template " + own + out);
    CHECK(broken.exit_code == 1);
    CHECK_THAT(broken.err, Catch::Contains("own.toml:4:8: error: 'bars' must be chords as in a chart"));
}

TEST_CASE("drills on a chord are those of the level that is asked for, up to the tempo that is", "[cli]") {
    const ScratchFolder folder;
    const auto drills = [&](const std::string& options) {
        const std::string file = folder.file("drills.musicxml");
        REQUIRE(run_program("drills Dm7 --for flute " + options + " -o " + file).exit_code == 0);
        return read_file(file);
    };
    CHECK_THAT(drills("--level 1"),
               Catch::Contains("The first five notes") && !Catch::Contains("Groups of five"));
    CHECK_THAT(drills("--level 6 --goal 80"), Catch::Contains("Groups of five") && Catch::Contains("at 80"));
    CHECK_THAT(drills("--level 1 --drills thirds"),
               Catch::Contains("In thirds") && !Catch::Contains("The first five notes"));
}

TEST_CASE("the hardest keys of a unit come first where that is asked for", "[cli][units]") {
    const ScratchFolder folder;
    const std::string file = folder.file("x.ly");
    CHECK(run_program("drills --unit V-I --keys hardest --for flute -o " + file).exit_code == 0);
    const std::string text = read_file(file);
    // Six flats or six sharps first, C major last.
    const std::size_t sharp = text.find("\"V-I in F\" \\ns");
    const std::size_t flat = text.find("\"V-I in G\" \\nf");
    CHECK((sharp != std::string::npos || flat != std::string::npos));
    CHECK(std::min(sharp, flat) < text.find("V-I in B major"));
    CHECK(text.find("V-I in C major") > text.find("V-I in G major"));
}

TEST_CASE("the table of each tune's plan names the pages of that tune", "[cli][units]") {
    const ScratchFolder folder;
    const std::string file = folder.file("book.ly");
    const std::string samples = std::string{SHEDBOOK_SOURCE_DIR} + "/sample-charts/";
    REQUIRE(run_program("book " + samples + "ferry-at-six.tune " + samples +
                        "late-window.tune --for flute --plan evening -o " + file)
                .exit_code == 0);
    const std::string text = read_file(file);
    const std::regex row{R"re("pages? ([0-9]+)(?: to ([0-9]+))?" \\hspace #2 \\tick)re"};
    int rows = 0;
    int before = 0;
    for (std::sregex_iterator it{text.begin(), text.end(), row}; it != std::sregex_iterator{}; ++it) {
        ++rows;
        CHECK(std::stoi((*it)[1]) > before);
        before = std::stoi((*it)[2].matched ? (*it)[2] : (*it)[1]);
    }
    CHECK(rows == 8);
}

}  // namespace shedbook
