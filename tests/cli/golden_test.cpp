// Whole outputs, kept as files that anyone can read: tests/golden/CASE holds tune.tune, arguments and
// book.musicxml. With SHEDBOOK_APPROVE=1 in the environment the files are written anew; the difference is
// then reviewed like code.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <string>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {

TEST_CASE("books of the golden cases are as they were approved", "[cli][golden]") {
    int cases = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + "/tests/golden"}) {
        const std::string folder = entry.path().string();
        const ScratchFolder scratch;
        std::string arguments = read_file(folder + "/arguments");
        while (arguments.ends_with('\n')) arguments.pop_back();
        const Outcome outcome = run_program("book " + folder + "/tune.tune " + arguments + " -o " +
                                            scratch.file("book.musicxml"));
        INFO(folder << "\n" << outcome.err);
        REQUIRE(outcome.exit_code == 0);
        const std::string book = read_file(scratch.file("book.musicxml"));
        if (std::getenv("SHEDBOOK_APPROVE") != nullptr) {
            write_atomically(folder + "/book.musicxml", [&](std::ostream& out) { out << book; });
        }
        CHECK(book == read_file(folder + "/book.musicxml"));
        ++cases;
    }
    CHECK(cases >= 1);
}

}  // namespace shedbook
