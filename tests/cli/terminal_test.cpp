// What only a terminal gets: colours, and the line that tells how far it is. script(1) is the terminal.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "program.h"
#include "program_on_path.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"

namespace shedbook {
namespace {

const std::string kFaultyTune = "Title: A\n| Cm7 | Xq |\n";

bool has_terminal() {
    if (find_program("script")) return true;
    WARN("skipped: no script(1) on this machine");
    return false;
}

// All that stands on the terminal in the end, in the order in which it came.
std::string on_terminal(const ScratchFolder& folder, const std::string& arguments,
                        const std::string& before = "") {
    const std::string line = "TERM=xterm " + before + " script -qec \"" + SHEDBOOK_PROGRAM + " " + arguments +
                             "\" " + folder.file("seen") + " > /dev/null < /dev/null";
    std::system(line.c_str());  // NOLINT: a shell is what users have
    return read_file(folder.file("seen"));
}

// What `command` has written to `file` when it says how to end it, and was ended so; a minute is given to
// slow machines.
std::string said_by_server(const std::string& command, const std::string& file) {
    const std::string line = "timeout -s INT 60 " + command + " & server=$!; for i in $(seq 600); do " +
                             "grep -q 'Ctrl-C ends it' " + file +
                             " 2> /dev/null && break; sleep 0.1; done; " + "kill -INT $server; wait $server";
    std::system(line.c_str());  // NOLINT: a shell is what users have
    return read_file(file);
}

// The half blocks of a text as a picture (portable bitmap), eight dots a square.
std::string picture_of_blocks(const std::string& text) {
    constexpr int kDots = 8;
    std::vector<std::pair<std::string, std::string>> rows;  // upper and lower squares, '1' is dark
    std::istringstream lines{text};
    for (std::string line; std::getline(lines, line);) {
        const std::size_t from = line.find("\x1b[30;107m");
        if (from == std::string::npos) continue;
        const std::string squares = line.substr(from + 9, line.rfind("\x1b[0m") - from - 9);
        auto& [upper, lower] = rows.emplace_back();
        for (std::size_t i = 0; i < squares.size(); i += squares[i] == ' ' ? 1 : 3) {
            const std::string letter = squares.substr(i, squares[i] == ' ' ? 1 : 3);
            upper += letter == "█" || letter == "▀" ? '1' : '0';
            lower += letter == "█" || letter == "▄" ? '1' : '0';
        }
    }
    if (rows.empty()) return {};
    std::string out = "P1\n" + std::to_string(rows.front().first.size() * kDots) + " " +
                      std::to_string(rows.size() * 2 * kDots) + "\n";
    for (const auto& [upper, lower] : rows) {
        for (const std::string* row : {&upper, &lower}) {
            std::string dots;
            for (const char square : *row) dots.append(kDots, square);
            for (int i = 0; i < kDots; ++i) out += dots + "\n";
        }
    }
    return out;
}

}  // namespace

TEST_CASE("errors have a colour on a terminal, unless it is not wanted", "[cli][terminal]") {
    if (!has_terminal()) return;
    const ScratchFolder folder;
    save(folder.file("a.tune"), kFaultyTune);
    const std::string arguments = "changes " + folder.file("a.tune");
    CHECK_THAT(on_terminal(folder, arguments),
               Catch::Contains("\x1b[1;31merror\x1b[0m") && Catch::Contains("expected a root"));
    CHECK_THAT(on_terminal(folder, "bok"), Catch::Contains("\x1b[1;31mshedbook:\x1b[0m"));
    CHECK_THAT(on_terminal(folder, arguments, "NO_COLOR=1"), !Catch::Contains("\x1b["));
    CHECK_THAT(on_terminal(folder, arguments, "TERM=dumb"), !Catch::Contains("\x1b["));
    // Nor where it goes into a file or another program.
    CHECK_THAT(run_program(arguments).err, !Catch::Contains("\x1b["));
}

TEST_CASE("work of more than a second tells on a terminal how far it is", "[cli][terminal]") {
    if (!has_terminal()) return;
    const ScratchFolder folder;
    const ProgramOnPath engraver{"lilypond", "sleep 2.5; exit 1"};
    const std::string arguments = "try --for flute,cello -o " + folder.file("first.pdf");
    const std::string seen = on_terminal(folder, arguments);
    CHECK_THAT(seen, Catch::Contains("\r\x1b[K1/2 " + folder.file("first-flute.pdf") + ", 1 s") &&
                         Catch::Contains("\r\x1b[K1/2 " + folder.file("first-flute.pdf") + ", 2 s"));
    // It is gone before anything else is said.
    CHECK_THAT(seen, Catch::Contains(", 2 s\r\x1b[K"));
    CHECK_THAT(on_terminal(folder, arguments + " --quiet"), !Catch::Contains("\r\x1b[K"));
    CHECK_THAT(run_program(arguments).err, !Catch::Contains("\r"));
}

TEST_CASE("while pages are set a terminal tells how many of them are, and how long the others take",
          "[cli][terminal]") {
    if (!has_terminal()) return;
    const ScratchFolder folder;
    const ProgramOnPath engraver{
        "lilypond", "for page in 1 2 3 4; do echo shedbook-page $page 0.9; sleep 0.5; done; exit 1"};
    const std::string seen = on_terminal(folder, "try --for flute -o " + folder.file("first.pdf"),
                                         "XDG_CACHE_HOME=" + folder.file("cache"));
    CHECK_THAT(seen, Catch::Matches(R"([\s\S]*first\.pdf: 2 of 1\d pages[\s\S]*)") &&
                         Catch::Matches(R"([\s\S]*first\.pdf: 4 of 1\d pages, \d s more[\s\S]*)"));
    save(folder.file("class.toml"), "[[student]]\nname = \"Ada\"\ninstrument = \"flute\"\nlevel = 3\n");
    save(folder.file("a.tune"), "Title: A\nKey: C\n| Dm7 | G7 | Cmaj7 | A7b9 |\n");
    const std::string lesson =
        on_terminal(folder,
                    "class " + folder.file("class.toml") + " " + folder.file("a.tune") +
                        " --as pdf --no-score -o " + folder.file("lesson"),
                    "XDG_CACHE_HOME=" + folder.file("cache"));
    CHECK_THAT(lesson, Catch::Matches(R"([\s\S]*Ada: 4 of \d+ pages, \d s more[\s\S]*)"));
}

TEST_CASE("a tablet's camera reads the address of the page from the terminal", "[cli][terminal]") {
    if (!has_terminal()) return;
    if (!find_program("zbarimg")) {
        WARN("skipped: no zbarimg on this machine");
        return;
    }
    const ScratchFolder folder;
    const ProgramOnPath opener{"xdg-open", "exit 0"};
    const std::string address_begins = "http://127.0.0.1:";
    const std::string serve = SHEDBOOK_PROGRAM " serve " + folder.file("") +
                              " --no-open --listen 127.0.0.1 --data " + folder.file("data");
    const std::string seen = said_by_server(
        "env TERM=xterm script -qefc \"" + serve + "\" " + folder.file("seen") + " > /dev/null < /dev/null",
        folder.file("seen"));
    INFO(seen);
    const std::size_t at = seen.find(address_begins);
    REQUIRE(at != std::string::npos);
    const std::string address = seen.substr(at, seen.find_first_of("\r\n", at) - at);
    save(folder.file("code.pbm"), picture_of_blocks(seen));
    std::system(
        ("zbarimg -q --raw " + folder.file("code.pbm") + " > " + folder.file("read") + " 2> /dev/null")
            .c_str());
    CHECK(read_file(folder.file("read")) == address + "\n");
    // Nothing for eyes where there are none.
    const std::string piped = said_by_server(serve + " > " + folder.file("piped"), folder.file("piped"));
    CHECK_THAT(piped, Catch::Contains(address_begins) && !Catch::Contains("█"));
}

TEST_CASE("what takes no second says nothing while it lasts, and then what was written", "[cli][terminal]") {
    if (!has_terminal()) return;
    const ScratchFolder folder;
    const std::string arguments = "drills Dm7 --for flute -o " + folder.file("a.mxl");
    const std::string seen = on_terminal(folder, arguments);
    CHECK_THAT(seen,
               !Catch::Contains("\x1b[K") && Catch::Contains("shedbook: wrote " + folder.file("a.mxl")));
    CHECK_THAT(on_terminal(folder, arguments + " --quiet"), !Catch::Contains("wrote"));
    CHECK(run_program(arguments).err.empty());
}

}  // namespace shedbook
