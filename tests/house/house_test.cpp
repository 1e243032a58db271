// The order of the house: which folder may use which, read from the #include lines.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// What each module may include of ours, itself aside (transitive uses are written out), and of others.
struct Row {
    std::set<std::string> modules;
    std::set<std::string> third_party;
};

const std::map<std::string, Row>& rows() {
    static const std::map<std::string, Row> kRows{
        {"base", {{}, {}}},
        {"io", {{"base"}, {"zip.h", "nlohmann", "toml++"}}},
        {"log", {{"base", "io"}, {"sqlite3.h"}}},
        {"theory", {{"base"}, {}}},
        {"band", {{"base", "io", "theory"}, {}}},
        {"chart", {{"base", "io", "theory"}, {"pugixml.hpp"}}},
        {"harmony", {{"base", "io", "theory", "chart"}, {}}},
        {"report", {{"base", "io", "theory", "chart", "harmony"}, {}}},
        {"drill", {{"base", "io", "theory"}, {}}},
        {"etude", {{"base", "io", "theory", "chart", "harmony", "drill"}, {}}},
        {"notation", {{"base", "io", "theory"}, {}}},
        {"write", {{"base", "io", "theory", "band", "notation"}, {"qpdf"}}},
        {"book", {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation"}, {}}},
        {"job",
         {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation", "write", "book",
           "log"},
          {}}},
        {"serve",
         {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation", "write", "book",
           "job", "report", "log"},
          {"httplib.h"}}},
        {"cli",
         {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation", "write", "book",
           "job", "report", "log", "serve"},
          {"CLI", "qrencode.h"}}},
    };
    return kRows;
}

// The text between the marks of an #include line; empty for other lines.
std::string included(const std::string& line, bool& ours) {
    const std::size_t at = line.find("#include");
    if (at == std::string::npos) return {};
    const std::size_t open = line.find_first_of("\"<", at);
    if (open == std::string::npos) return {};
    ours = line[open] == '"';
    return line.substr(open + 1, line.find_first_of("\">", open + 1) - open - 1);
}

const fs::path kRoot{SHEDBOOK_SOURCE_DIR};

std::vector<fs::path> sources_of(const std::string& module) {
    std::vector<fs::path> out;
    for (const fs::path& folder : {kRoot / "include/shedbook" / module,
                                   kRoot / "src/include/shedbook" / module, kRoot / "src" / module}) {
        if (!fs::exists(folder)) continue;
        for (const auto& entry : fs::recursive_directory_iterator{folder}) {
            const std::string ending = entry.path().extension().string();
            if (ending == ".h" || ending == ".cpp") out.push_back(entry.path());
        }
    }
    return out;
}

// Whether a private header may be included from a file of the module: one of its own folder, or, in a room of
// a module, one that the rooms have in common ("../name.h"). Rooms do not see each other, and what they have
// in common sees none of them.
bool is_within_reach(const std::string& module, const fs::path& file, const std::string& header) {
    const bool in_room = file.parent_path() != kRoot / "src" / module;
    const bool from_common = header.starts_with("../");
    if (from_common && !in_room) return false;
    const std::string name = from_common ? header.substr(3) : header;
    return name.find('/') == std::string::npos && fs::exists(file.parent_path() / header);
}

// Standard and system headers have no folder, or one of these.
bool is_standard(const std::string& header) {
    return header.find('.') == std::string::npos || header == "unistd.h" || header == "fcntl.h" ||
           header == "poll.h" || header.starts_with("sys/") || header.starts_with("arpa/");
}

}  // namespace

TEST_CASE("each module includes only what lies below it", "[house]") {
    int files = 0;
    for (const auto& [module, row] : rows()) {
        for (const fs::path& path : sources_of(module)) {
            ++files;
            std::ifstream file{path};
            for (std::string line; std::getline(file, line);) {
                bool ours = false;
                const std::string header = included(line, ours);
                if (header.empty()) continue;
                INFO(path << ": " << line);
                if (header.starts_with("shedbook/")) {
                    const std::string other = header.substr(9, header.find('/', 9) - 9);
                    CHECK((other == module || row.modules.contains(other)));
                } else if (ours) {
                    CHECK(is_within_reach(module, path, header));
                } else if (!is_standard(header)) {
                    CHECK(row.third_party.contains(header.substr(0, header.find('/'))));
                }
            }
        }
    }
    CHECK(files > 60);
}

TEST_CASE("a large header of a library is seen by one source", "[house]") {
    std::map<std::string, int> seen{
        {"CLI", 0}, {"nlohmann", 0}, {"toml++", 0}, {"sqlite3.h", 0}, {"httplib.h", 0}};
    for (const auto& [module, row] : rows()) {
        for (const fs::path& path : sources_of(module)) {
            std::ifstream file{path};
            for (std::string line; std::getline(file, line);) {
                bool ours = false;
                const std::string header = included(line, ours);
                const auto found = seen.find(header.substr(0, header.find('/')));
                if (!ours && found != seen.end()) ++found->second;
            }
        }
    }
    for (const auto& [library, sources] : seen) {
        INFO(library);
        CHECK(sources == 1);
    }
}

TEST_CASE("no constant has its name twice in the sources of a module, which are compiled together",
          "[house]") {
    static const std::regex kDefinition{R"(^constexpr [\w:<>, ]+ (\w+)(?:\[\w*\])*(?: =|\{).*)"};
    std::size_t constants = 0;
    for (const auto& [module, row] : rows()) {
        std::set<std::string> known;
        for (const fs::path& path : sources_of(module)) {
            if (path.extension() != ".cpp") continue;
            std::ifstream file{path};
            for (std::string line; std::getline(file, line);) {
                std::smatch found;
                if (!std::regex_match(line, found, kDefinition)) continue;
                INFO(path << ": " << line);
                CHECK(known.insert(found[1]).second);
            }
        }
        constants += known.size();
    }
    CHECK(constants > 200);
}

// Two types of one name in one program are no error that a compiler must find (C++20 [basic.def.odr]).
TEST_CASE("no type and no constant has its name twice in headers", "[house]") {
    static const std::regex kDefinition{
        R"(^(?:struct|class|enum class|inline constexpr [\w:]+) (\w+) *(?:final )?(?:: [\w: ]+)?[{=])"};
    std::map<std::string, std::string> known;
    for (const auto& [module, row] : rows()) {
        for (const fs::path& path : sources_of(module)) {
            if (path.extension() != ".h") continue;
            std::ifstream file{path};
            for (std::string line; std::getline(file, line);) {
                std::smatch found;
                if (!std::regex_search(line, found, kDefinition)) continue;
                INFO(path << ": " << line);
                CHECK(known.emplace(found[1], path.string()).second);
            }
        }
    }
    CHECK(known.size() > 150);
}

namespace {

// Which modules a module's sources name in their #include lines.
std::set<std::string> used_by(const std::string& module) {
    std::set<std::string> out;
    for (const fs::path& path : sources_of(module)) {
        std::ifstream file{path};
        for (std::string line; std::getline(file, line);) {
            bool ours = false;
            const std::string header = included(line, ours);
            if (!header.starts_with("shedbook/")) continue;
            out.insert(header.substr(9, header.find('/', 9) - 9));
        }
    }
    out.erase(module);
    return out;
}

// Without what is reached by another way: cli -> job -> book, and no line from cli to book.
std::set<std::string> lines_of_the_drawing() {
    std::map<std::string, std::set<std::string>> uses;
    for (const auto& [module, row] : rows()) uses[module] = used_by(module);
    const auto reaches = [&](const auto& self, const std::string& from, const std::string& to) -> bool {
        return std::any_of(uses[from].begin(), uses[from].end(),
                           [&](const std::string& next) { return next == to || self(self, next, to); });
    };
    std::set<std::string> out;
    for (const auto& [module, used] : uses) {
        for (const std::string& other : used) {
            const bool by_another_way = std::any_of(used.begin(), used.end(), [&](const std::string& via) {
                return via != other && reaches(reaches, via, other);
            });
            if (!by_another_way) out.insert(module + " --> " + other);
        }
    }
    return out;
}

}  // namespace

TEST_CASE("the drawing of the modules in DEVELOPERS.md is what the #include lines say", "[house]") {
    std::ifstream file{std::string{SHEDBOOK_SOURCE_DIR} + "/DEVELOPERS.md"};
    std::set<std::string> drawn;
    for (std::string line; std::getline(file, line);) {
        const std::size_t arrow = line.find(" --> ");
        if (arrow != std::string::npos) drawn.insert(line.substr(line.find_first_not_of(' ')));
    }
    for (const std::string& line : lines_of_the_drawing()) {
        INFO("missing: " << line);
        CHECK(drawn.erase(line) == 1);
    }
    for (const std::string& line : drawn) FAIL_CHECK("drawn, and not so: " << line);
}

TEST_CASE("rooms of a module reach what they have in common, and not each other", "[house]") {
    const fs::path cell = kRoot / "src/chart/text/tune_cell.cpp";
    CHECK(is_within_reach("chart", cell, "tune_cell.h"));
    CHECK(is_within_reach("chart", cell, "../settle.h"));
    CHECK_FALSE(is_within_reach("chart", cell, "settle.h"));
    CHECK_FALSE(is_within_reach("chart", cell, "../abc/abc_music.h"));
    CHECK_FALSE(is_within_reach("chart", kRoot / "src/chart/settle.cpp", "text/tune_cell.h"));
    CHECK_FALSE(is_within_reach("chart", kRoot / "src/chart/settle.cpp", "../book/sittings.h"));
}

TEST_CASE("no source is longer than a person reads in one go", "[house]") {
    constexpr int kMostLines = 400;
    for (const auto& [module, row] : rows()) {
        for (const fs::path& path : sources_of(module)) {
            if (path.extension() != ".cpp") continue;
            std::ifstream file{path};
            int lines = 0;
            for (std::string line; std::getline(file, line);) ++lines;
            INFO(path << " has " << lines << " lines");
            CHECK(lines <= kMostLines);
        }
    }
}

// Public headers without a source or a test of their name, with the reason.
struct Exempt {
    std::string reason;
    bool from_source = true;
    bool from_test = true;
};
const std::map<std::string, Exempt>& exempt_headers() {
    static const std::map<std::string, Exempt> kExempt{
        {"band/accompaniment", {"values; its lines are in bass_line.cpp and voicings.cpp", true, false}},
        {"band/rhythm_section",
         {"a file for each player: play_bass.cpp, play_chords.cpp, play_drums.cpp", true, false}},
        {"base/enum_table", {"templates", true, false}},
        {"base/time", {"values in the header", true, false}},
        {"chart/limits", {"constants", true, false}},
        {"drill/pattern", {"its functions lie with cells and rhythms: cell.cpp, rhythm.cpp", true, false}},
        {"job/caller", {"an interface", true, true}},
        {"job/jobs", {"a file for each job; counts_test.cpp and the program's tests call them", true, true}},
        {"job/lists", {"tables as data; cli_test.cpp reads them all", false, true}},
        {"job/log_data", {"values as data; log_command_test.cpp reads them", false, true}},
        {"job/log_jobs",
         {"files log_job.cpp, today_job.cpp ...; log_command_test.cpp calls them", true, true}},
        {"job/log_requests", {"values", true, true}},
        {"job/own_files", {"own files are given to the program: cli_test.cpp", false, true}},
        {"job/requests", {"values", true, true}},
        {"io/as_data", {"values in the header", true, true}},
        {"io/errors", {"types alone", true, true}},
        {"log/entry", {"values; log_book_test.cpp keeps them", true, true}},
        {"harmony/own_scales", {"taken into tables for a whole program: cli_test.cpp", false, true}},
        {"notation/written_music", {"values; notate_test.cpp looks at them", true, true}},
        {"report/report", {"a file for each form: text_report.cpp, json_report.cpp", true, false}},
        {"io/own_templates", {"taken for a whole program: cli_test.cpp", false, true}},
        {"notation/document", {"values; notate_test.cpp and the writers' tests look at them", true, true}},
        {"notation/form_map", {"values; map_of_tune_test.cpp looks at them", true, true}},
        {"notation/progress_chart", {"values; progress_svg_test.cpp draws them", true, true}},
        {"theory/pitch_class", {"read and written with its octave: pitch.cpp", true, false}},
        {"write/screen_data", {"practising_test.cpp asks a page server for it", false, true}},
        {"write/sound_options", {"values; midi_test.cpp plays them", true, true}},
    };
    return kExempt;
}

bool has_file(const fs::path& folder, const std::string& name) {
    if (!fs::exists(folder)) return false;
    return std::ranges::any_of(fs::recursive_directory_iterator{folder},
                               [&](const auto& entry) { return entry.path().filename() == name; });
}

TEST_CASE("each public header has its source and its test under one name", "[house]") {
    std::set<std::string> used;
    for (const auto& [module, row] : rows()) {
        for (const fs::path& path : sources_of(module)) {
            if (path.extension() != ".h" || path.parent_path().parent_path().filename() != "shedbook")
                continue;
            const std::string stem = path.stem().string();
            const std::string name = module + "/" + stem;
            INFO(name);
            const auto exempt = exempt_headers().find(name);
            const bool is_exempt = exempt != exempt_headers().end();
            const bool has_source = has_file(kRoot / "src" / module, stem + ".cpp");
            const bool has_test = has_file(kRoot / "tests" / module, stem + "_test.cpp");
            // An exemption that is not needed any more is not kept either.
            CHECK(has_source != (is_exempt && exempt->second.from_source));
            CHECK(has_test != (is_exempt && exempt->second.from_test));
            if (is_exempt) used.insert(name);
        }
    }
    CHECK(used.size() == exempt_headers().size());
}

// Lines of tests/mutants.txt: a file, "- " what stands there, "+ " what it becomes.
TEST_CASE("what tests/mutants.txt would change stands in its source once", "[house]") {
    std::ifstream table{kRoot / "tests" / "mutants.txt"};
    std::string file;
    std::size_t faults = 0;
    for (std::string line; std::getline(table, line);) {
        if (line.starts_with("src/")) file = line;
        if (!line.starts_with("- ")) continue;
        ++faults;
        std::ifstream in{kRoot / file};
        const std::string source{std::istreambuf_iterator<char>{in}, {}};
        const std::string before = line.substr(2);
        INFO(file << ": " << before);
        const std::size_t at = source.find(before);
        CHECK(at != std::string::npos);
        CHECK(at == source.rfind(before));
    }
    CHECK(faults >= 50);
}

TEST_CASE("every folder of sources is a module with a row", "[house]") {
    for (const char* folder : {"/src", "/src/include/shedbook", "/include/shedbook"}) {
        for (const auto& entry : fs::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + folder}) {
            INFO(entry.path());
            const std::string name = entry.path().filename().string();
            if (entry.is_directory() && name != "include") CHECK(rows().contains(name));
        }
    }
}

TEST_CASE("the interface needs nothing that only the modules see", "[house]") {
    int headers = 0;
    for (const auto& entry : fs::recursive_directory_iterator{kRoot / "include"}) {
        if (entry.path().extension() != ".h") continue;
        ++headers;
        std::ifstream file{entry.path()};
        for (std::string line; std::getline(file, line);) {
            bool ours = false;
            const std::string header = included(line, ours);
            INFO(entry.path() << ": " << line);
            if (ours && !header.empty()) CHECK(fs::exists(kRoot / "include" / header));
        }
    }
    CHECK(headers > 20);
}

}  // namespace shedbook
