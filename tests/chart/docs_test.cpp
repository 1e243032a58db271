// The page for people who write charts must be true.
#include <catch2/catch.hpp>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

std::string page() {
    return read_file(std::string{SHEDBOOK_SOURCE_DIR} + "/docs/charts.md");
}

// The pieces of code in a row of a table.
std::vector<std::string> code_in(const std::string& row) {
    std::vector<std::string> out;
    std::size_t at = row.find('`');
    while (at != std::string::npos) {
        const std::size_t end = row.find('`', at + 1);
        std::string code = row.substr(at + 1, end - at - 1);
        for (std::size_t bar = code.find("\\|"); bar != std::string::npos; bar = code.find("\\|"))
            code.erase(bar, 1);
        out.push_back(code);
        at = row.find('`', end + 1);
    }
    return out;
}

std::string messages_for(const std::string& name, const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_tune(SourceText{name, text}, diagnostics);
    std::string out;
    for (const Diagnostic& diagnostic : diagnostics.all()) out += render(diagnostic);
    return out;
}

// Lines that are set in by four blanks, joined, from the first that begins with `from`.
std::string example(const std::string& text, const std::string& from) {
    std::string out;
    bool is_inside = false;
    for (const std::string_view line : split(text, '\n')) {
        is_inside = is_inside || line.starts_with("    " + from);
        if (is_inside && from.ends_with("tune:") && line.empty()) break;
        if (is_inside && !line.empty() && !line.starts_with("    ")) break;
        if (is_inside) out += std::string{line.substr(std::min<std::size_t>(4, line.size()))} + "\n";
    }
    return out;
}

}  // namespace

TEST_CASE("every bar that the page on charts shows can be read", "[chart][docs]") {
    int tried = 0;
    const std::string text = page();
    for (const std::string_view row : split(text, '\n')) {
        if (!row.starts_with("| ")) continue;
        for (const std::string& code : code_in(std::string{row})) {
            if (!code.starts_with('|')) continue;
            const bool is_first_bar = code.find("pickup") != std::string::npos;
            const std::string before = is_first_bar ? "" : "| C | C |]\n";
            const bool is_compound = row.find("6/8") != std::string_view::npos;
            const std::string chart =
                std::string{is_compound ? "Meter: 6/8\n" : "Meter: 4/4\n"} + before + code + "\n";
            INFO(chart);
            CHECK(messages_for("x.tune", chart) == "");
            ++tried;
        }
    }
    CHECK(tried > 30);
}

TEST_CASE("the whole chart and the message on the page are what the program says", "[chart][docs]") {
    const std::string text = page();
    const std::string chart = example(text, "Title: Two Doors");
    CHECK(messages_for("two-doors.tune", chart) == "");
    std::string broken = chart;
    broken.replace(broken.find("| Fmaj7"), 7, "| F7[altird]");
    CHECK(messages_for("two-doors.tune", broken) == example(text, "two-doors.tune:"));
}

}  // namespace shedbook
