// Inputs with what must come of them, as files that anyone can read: tests/cases/tune-*.case and so on. Each
// has a sentence, the input under its file name, and one or more of
//
//     --- messages   what the reader says, as the user sees it
//     --- tidy       the text chart that is written
//     --- dump       all that the chart says
//     --- played     written bars in order of play
//     --- line       chords as played, with place and length in whole notes
//
// A new case is a new file. SHEDBOOK_APPROVE=1 in the environment rewrites what is expected; read the
// difference.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <vector>

#include "chart/dump.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

constexpr std::string_view kMark = "--- ";

struct Part {
    std::string name;
    std::string text;
};

struct Case {
    std::string sentence;
    std::vector<Part> parts;  // the first is the input
};

Case parse_case(const std::string& text) {
    Case out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string line = text.substr(at, end - at);
        at = end + 1;
        if (line.starts_with(kMark)) {
            out.parts.push_back({line.substr(kMark.size()), {}});
        } else {
            (out.parts.empty() ? out.sentence : out.parts.back().text) += line + "\n";
        }
    }
    return out;
}

std::string result(const Case& input, const std::string& kind) {
    Diagnostics diagnostics;
    const Part& source = input.parts.front();
    const auto chart = read_chart(source.name, source.text, {}, diagnostics);
    std::string out;
    if (kind == "messages") {
        for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
        return out;
    }
    if (!chart) return "no chart\n";
    if (kind == "tidy") return write_tune(*chart);
    if (kind == "dump") return dump(*chart);
    if (kind == "played") return played(*chart) + "\n";
    if (kind == "line") {
        const auto timeline = unfold(*chart, diagnostics);
        return timeline ? dump(*timeline) + "\n" : "no timeline\n";
    }
    return "unknown part " + kind + "\n";
}

std::string text_of(const Case& value) {
    std::string out = value.sentence;
    for (const Part& part : value.parts) out += std::string{kMark} + part.name + "\n" + part.text;
    return out;
}

}  // namespace

TEST_CASE("every chart case gives what it promises", "[chart][cases]") {
    const std::string folder = std::string{SHEDBOOK_SOURCE_DIR} + "/tests/cases";
    const bool approves = std::getenv("SHEDBOOK_APPROVE") != nullptr;
    std::set<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator{folder}) {
        const std::string name = entry.path().filename().string();
        for (const std::string_view kind : {"tune-", "json-", "score-", "abc-"}) {
            if (name.starts_with(kind) && name.ends_with(".case")) files.insert(entry.path().string());
        }
    }
    CHECK(files.size() > 20);
    for (const std::string& file : files) {
        Case value = parse_case(read_file(file));
        INFO(file << "\n" << value.sentence);
        REQUIRE(value.parts.size() > 1);
        for (std::size_t i = 1; i < value.parts.size(); ++i) {
            const std::string found = result(value, value.parts[i].name);
            if (approves) {
                value.parts[i].text = found;
            } else {
                INFO(value.parts[i].name);
                CHECK(found == value.parts[i].text);
            }
        }
        if (approves) std::ofstream{file} << text_of(value);
    }
}

}  // namespace shedbook
