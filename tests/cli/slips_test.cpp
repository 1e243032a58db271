// What people type and paste wrongly, and what they are told: tests/cli/slips holds the inputs, each with all
// that the program says. With SHEDBOOK_APPROVE=1 in the environment that is written anew, to be read as a
// stranger reads it.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "program.h"
#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// "=== ARGUMENTS", then "--- FILE" with its text for each, then "--- said, N" with what came of it.
struct Slip {
    std::string arguments;
    std::vector<std::pair<std::string, std::string>> files;
    std::string said;
};

constexpr const char* kSaid = "said";

std::vector<Slip> read_slips(const std::string& text) {
    std::vector<Slip> out;
    std::string* into = nullptr;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);) {
        if (line.starts_with("=== ")) {
            out.push_back({line.substr(4), {}, {}});
            into = nullptr;
        } else if (line == std::string{"--- "} + kSaid) {
            into = &out.back().said;
        } else if (line.starts_with("--- ")) {
            into = &out.back().files.emplace_back(line.substr(4), "").second;
        } else if (into != nullptr) {
            *into += line + "\n";
        }
    }
    return out;
}

std::string written(const std::vector<Slip>& slips) {
    std::string out;
    for (const Slip& slip : slips) {
        out += "=== " + slip.arguments + "\n";
        for (const auto& [name, content] : slip.files) out += "--- " + name + "\n" + content;
        out += std::string{"--- "} + kSaid + "\n" + slip.said;
    }
    return out;
}

// Errors first, as they stand on a terminal above nothing else; of what is printed a few lines will do.
std::string said_of(const Slip& slip) {
    constexpr int kMostLines = 6;
    const ScratchFolder folder;
    for (const auto& [name, content] : slip.files) save(folder.file(name), content);
    const fs::path before = fs::current_path();
    fs::current_path(folder.file(""));
    const Outcome outcome = run_program(slip.arguments);
    fs::current_path(before);
    std::string out = outcome.err;
    std::istringstream printed{outcome.out};
    int lines = 0;
    for (std::string line; lines < kMostLines && std::getline(printed, line); ++lines) out += line + "\n";
    return out + "(exit code " + std::to_string(outcome.exit_code) + ")\n";
}

}  // namespace

TEST_CASE("slips are told as they were approved", "[cli][slips]") {
    std::size_t count = 0;
    for (const auto& entry : fs::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + "/tests/cli/slips"}) {
        const std::string path = entry.path().string();
        std::vector<Slip> slips = read_slips(read_file(path));
        for (Slip& slip : slips) {
            INFO(path << ": " << slip.arguments);
            const std::string said = said_of(slip);
            if (std::getenv("SHEDBOOK_APPROVE") == nullptr) CHECK(said == slip.said);
            CHECK_THAT(said, !Catch::Contains("fault of the program"));
            slip.said = said;
            ++count;
        }
        if (std::getenv("SHEDBOOK_APPROVE") != nullptr)
            write_atomically(path, [&](std::ostream& out) { out << written(slips); });
    }
    CHECK(count >= 60);
}

}  // namespace shedbook
