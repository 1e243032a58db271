// The order of the house: which folder may use which, read from the #include lines.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
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
        {"theory", {{"base"}, {}}},
        {"band", {{"base", "io", "theory"}, {}}},
        {"chart", {{"base", "io", "theory"}, {"pugixml.hpp"}}},
        {"harmony", {{"base", "io", "theory", "chart"}, {}}},
        {"report", {{"base", "io", "theory", "chart", "harmony"}, {}}},
        {"drill", {{"base", "io", "theory"}, {}}},
        {"etude", {{"base", "io", "theory", "chart", "harmony", "drill"}, {}}},
        {"notation", {{"base", "io", "theory"}, {}}},
        {"write", {{"base", "io", "theory", "band", "notation"}, {}}},
        {"book", {{"base", "io", "theory", "chart", "harmony", "drill", "etude", "notation"}, {}}},
        {"job",
         {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation", "write", "book"},
          {}}},
        {"cli",
         {{"base", "io", "theory", "band", "chart", "harmony", "drill", "etude", "notation", "write", "book",
           "job", "report"},
          {"CLI"}}},
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

std::vector<fs::path> sources_of(const std::string& module) {
    std::vector<fs::path> out;
    const fs::path root{SHEDBOOK_SOURCE_DIR};
    for (const fs::path& folder : {root / "include/shedbook" / module, root / "src" / module}) {
        if (!fs::exists(folder)) continue;
        for (const auto& entry : fs::directory_iterator{folder}) {
            const std::string ending = entry.path().extension().string();
            if (ending == ".h" || ending == ".cpp") out.push_back(entry.path());
        }
    }
    return out;
}

// Standard and system headers have no folder, or one of these.
bool is_standard(const std::string& header) {
    return header.find('.') == std::string::npos || header == "unistd.h" || header == "fcntl.h" ||
           header == "poll.h" || header.starts_with("sys/");
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
                    // A private header lies in the same folder.
                    CHECK(header.find('/') == std::string::npos);
                    CHECK(fs::exists(path.parent_path() / header));
                } else if (!is_standard(header)) {
                    CHECK(row.third_party.contains(header.substr(0, header.find('/'))));
                }
            }
        }
    }
    CHECK(files > 60);
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

TEST_CASE("every folder of sources is a module with a row", "[house]") {
    for (const char* folder : {"/src", "/include/shedbook"}) {
        for (const auto& entry : fs::directory_iterator{std::string{SHEDBOOK_SOURCE_DIR} + folder}) {
            INFO(entry.path());
            if (entry.is_directory()) CHECK(rows().contains(entry.path().filename().string()));
        }
    }
}

}  // namespace shedbook
