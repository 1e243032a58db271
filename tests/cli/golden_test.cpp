// Whole outputs, kept as files that anyone can read: tests/golden/CASE holds the arguments ({case} is that
// folder, {out} where files go), what they name, and in expected/ the files that are compared. With
// SHEDBOOK_APPROVE=1 in the environment those are written anew; the difference is then reviewed like code.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <string>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

std::string with(std::string text, const std::string& hole, const std::string& value) {
    for (std::size_t at = text.find(hole); at != std::string::npos; at = text.find(hole))
        text.replace(at, hole.size(), value);
    return text;
}

}  // namespace

TEST_CASE("the golden cases are as they were approved", "[cli][golden]") {
    int files = 0;
    for (const auto& entry : fs::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + "/tests/golden"}) {
        const std::string folder = entry.path().string();
        const ScratchFolder scratch;
        std::string arguments = read_file(folder + "/arguments");
        while (arguments.ends_with('\n')) arguments.pop_back();
        arguments = with(with(arguments, "{case}", folder), "{out}", scratch.file(""));
        const Outcome outcome = run_program(arguments);
        INFO(folder << "\n" << outcome.err);
        REQUIRE(outcome.exit_code == 0);
        for (const auto& expected : fs::directory_iterator{folder + "/expected"}) {
            const std::string name = expected.path().filename().string();
            INFO(name);
            const std::string written = read_file(scratch.file(name));
            if (std::getenv("SHEDBOOK_APPROVE") != nullptr)
                write_atomically(expected.path().string(), [&](std::ostream& out) { out << written; });
            CHECK(written == read_file(expected.path().string()));
            ++files;
        }
    }
    CHECK(files >= 7);
}

}  // namespace shedbook
