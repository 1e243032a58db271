// Lead sheets as people made them, against tables that another program made of the same files. Source:
// OpenEWLD (doi 10.5281/zenodo.4332855), read by a reader of its own; the tables hold facts, and nothing of
// the data is kept here.
#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <sstream>

#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

const std::string kFolder = std::string{SHEDBOOK_SHARED_DIR} + "/reference/leadsheets";

bool is_there() {
    if (std::filesystem::exists(kFolder + "/files.tsv")) return true;
    WARN("skipped: the folder of real lead sheets is not there (" << kFolder << ")");
    return false;
}

using Row = std::map<std::string, std::string>;

// The rows of a table by their file.
std::map<std::string, std::vector<Row>> table(const std::string& name) {
    std::istringstream lines{read_file(kFolder + "/" + name)};
    std::string line;
    std::getline(lines, line);
    const std::string head = line;
    const std::vector<std::string_view> columns = split(head, '\t');
    std::map<std::string, std::vector<Row>> out;
    while (std::getline(lines, line)) {
        const std::vector<std::string_view> cells = split(line, '\t');
        Row row;
        for (std::size_t i = 0; i < columns.size(); ++i) row[std::string{columns[i]}] = cells[i];
        out[row["file"]].push_back(row);
    }
    return out;
}

Rational parse_fraction(const std::string& text) {
    const std::size_t slash = text.find('/');
    if (slash == std::string::npos) return Rational{std::stoll(text)};
    return {std::stoll(text.substr(0, slash)), std::stoll(text.substr(slash + 1))};
}

std::optional<Chart> read_sheet(const std::string& file) {
    Diagnostics diagnostics;
    auto chart = read_chart(file + ".mxl", read_file(kFolder + "/" + file + ".mxl"), {}, diagnostics);
    std::string messages;
    for (const Diagnostic& diagnostic : diagnostics.all()) messages += render(diagnostic);
    INFO(messages);
    CHECK(chart);
    return chart;
}

// Bars, chords and so on as one text a bar, from the chart and from the tables.
std::string text_of(PitchClass root, const std::optional<PitchClass>& bass) {
    return to_string(root) + (bass && *bass != root ? "/" + to_string(*bass) : "");
}

std::string numbers(unsigned set) {
    std::string out;
    for (unsigned i = 0; i < 12; ++i) {
        if (((set >> i) & 1U) != 0U) out += (out.empty() ? "" : " ") + std::to_string(i);
    }
    return out;
}

// "1 G [0 4 7]": beat, root and bass, and what sounds over the root.
std::vector<std::string> chord_lines(const Chart& chart) {
    std::vector<std::string> out;
    for (const WrittenBar& bar : written_bars(chart)) {
        for (const PlacedChord& chord : bar.bar->chords) {
            if (!chord.symbol) continue;
            const Rational quarters = (chord.at - Position{}) / kQuarter;
            out.push_back(std::to_string(bar.index + 1) + ":" + to_string(quarters) + " " +
                          text_of(chord.symbol->root, chord.symbol->bass) + " [" +
                          numbers(pitch_set(*chord.symbol)) + "]");
        }
    }
    return out;
}

std::vector<std::string> chord_lines(const std::vector<Row>& rows) {
    std::vector<std::string> out;
    for (Row row : rows) {
        if (row["pcs"] == "-") continue;  // the file does not say which chord it is
        const bool has_bass = row["bass"] != "-" && row["bass"] != row["root"];
        out.push_back(row["bar"] + ":" + to_string(parse_fraction(row["quarters"])) + " " + row["root"] +
                      (has_bass ? "/" + row["bass"] : "") + " [" + row["pcs"] + "]");
    }
    return out;
}

// A 13th of the standard holds its 11th; over a major third no player sounds it, and we do not print it. The
// table says what the standard says, so that tone is taken out of these rows.
std::string without_eleventh_of_13th(std::string line) {
    constexpr std::string_view kStandard = "[0 2 4 5 7 9 10]";
    if (line.ends_with(kStandard))
        line.replace(line.size() - kStandard.size(), kStandard.size(), "[0 2 4 7 9 10]");
    return line;
}

std::string ending_text(const std::vector<WrittenBar>& bars, std::size_t i) {
    const BarMarks& marks = bars[i].bar->marks;
    if (marks.endings.empty()) return "-";
    std::string number;
    for (const int ending : marks.endings) number += (number.empty() ? "" : ",") + std::to_string(ending);
    std::string out = marks.ending_start ? "start:" + number : "";
    const bool goes_on = i + 1 < bars.size() && bars[i + 1].bar->marks.endings == marks.endings &&
                         !bars[i + 1].bar->marks.ending_start;
    if (!goes_on) out += (out.empty() ? "stop:" : " stop:") + number;
    return out.empty() ? "-" : out;
}

std::vector<std::string> bar_lines(const Chart& chart) {
    const std::vector<WrittenBar> bars = written_bars(chart);
    std::vector<std::string> out;
    std::optional<Key> key = chart.key;
    bool has_meter = chart.meter.has_value();
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const Bar& bar = *bars[i].bar;
        if (bar.key) key = bar.key;
        has_meter = has_meter || bar.meter;
        out.push_back(std::to_string(i + 1) + " time " + (has_meter ? to_string(bars[i].meter) : "-") +
                      " fifths " + (key ? std::to_string(signature(*key)) : "-") + " quarters " +
                      to_string(bars[i].length / kQuarter) + " left " +
                      (bar.marks.repeat_start ? "repeat" : "-") + " right " +
                      (bar.marks.repeat_end > 0 ? "repeat" : "-") + " endings " + ending_text(bars, i));
    }
    return out;
}

std::vector<std::string> bar_lines(const std::vector<Row>& rows) {
    std::vector<std::string> out;
    for (Row row : rows) {
        out.push_back(row["bar"] + " time " + row["time"] + " fifths " + row["fifths"] + " quarters " +
                      to_string(parse_fraction(row["quarters"])) + " left " + row["left"] + " right " +
                      row["right"] + " endings " + row["endings"]);
    }
    return out;
}

}  // namespace

TEST_CASE("real lead sheets give the chords of the reference table, each in its place",
          "[chart][leadsheet]") {
    if (!is_there()) return;
    const auto chords = table("chords.tsv");
    for (const auto& [file, ignored] : table("files.tsv")) {
        INFO(file);
        const auto chart = read_sheet(file);
        if (!chart) continue;
        const auto rows = chords.find(file);
        std::vector<std::string> expected =
            rows == chords.end() ? std::vector<std::string>{} : chord_lines(rows->second);
        for (std::string& line : expected) line = without_eleventh_of_13th(line);
        CHECK(chord_lines(*chart) == expected);
    }
}

TEST_CASE("real lead sheets give the bars, meters, keys, repeats and endings of the reference table",
          "[chart][leadsheet]") {
    if (!is_there()) return;
    for (const auto& [file, rows] : table("bars.tsv")) {
        INFO(file);
        const auto chart = read_sheet(file);
        if (chart) CHECK(bar_lines(*chart) == bar_lines(rows));
    }
}

TEST_CASE("real lead sheets are played in the order of the reference table", "[chart][leadsheet]") {
    if (!is_there()) return;
    int compared = 0;
    for (const auto& [file, rows] : table("order.tsv")) {
        INFO(file);
        const auto chart = read_sheet(file);
        if (!chart) continue;
        Diagnostics diagnostics;
        const auto order = order_of_play(*chart, diagnostics);
        REQUIRE(order);
        std::string text;
        for (const int bar : *order) text += (text.empty() ? "" : " ") + std::to_string(bar + 1);
        const std::string& expected = rows[0].at("bars_in_order_of_play");
        if (expected == "-") continue;  // words and signs: the table does not follow them
        ++compared;
        CHECK(text == expected);
    }
    CHECK(compared > 0);
}

}  // namespace shedbook
