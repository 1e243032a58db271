// The analysis against charts and answers that are no part of the project, where they are at hand:
// reference/functions/textbook-cases.tsv (chords asked of a teacher, most of them after R. Hutchinson, Music
// Theory for the 21st-Century Classroom; each row names its source) and reference/leadsheets (OpenEWLD).
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "analysed.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

using TableRow = std::map<std::string, std::string>;

std::vector<TableRow> cases() {
    std::ifstream stream{std::string{SHEDBOOK_SHARED_DIR} + "/reference/functions/textbook-cases.tsv"};
    std::vector<TableRow> out;
    std::string header;
    if (!std::getline(stream, header)) return out;
    const std::vector<std::string_view> names = split(header, '\t');
    for (std::string line; std::getline(stream, line);) {
        const std::vector<std::string_view> cells = split(line, '\t');
        TableRow row;
        for (std::size_t i = 0; i < names.size() && i < cells.size(); ++i)
            row[std::string{names[i]}] = cells[i];
        out.push_back(std::move(row));
    }
    return out;
}

// Answers are lists: "A dorian; A minor".
bool is_one_of(const std::string& answer, const std::string& accepted) {
    std::string rest = accepted;
    for (std::size_t at = 0; !rest.empty(); rest = at < rest.size() ? rest.substr(at + 2) : std::string{}) {
        at = std::min(rest.find("; "), rest.size());
        if (rest.substr(0, at) == answer) return true;
    }
    return false;
}

std::string pitch_classes(const Scale& scale) {
    std::string out;
    for (const int note : sounding_notes(scale)) out += (out.empty() ? "" : " ") + std::to_string(note);
    return out;
}

// The reading of the chord at a bar and beat, both counted from 1.
const Reading& reading_at(const Analysed& tune, int bar, int beat) {
    std::size_t inst = 0;
    for (const WrittenBar& written : written_bars(tune.chart)) {
        for (const PlacedChord& placed : written.bar->chords) {
            const Rational on = (placed.at - Position{}) / written.meter.unit_length() + Rational{1};
            if (written.index + 1 == bar && on == Rational{beat}) return tune[inst];
            ++inst;
        }
    }
    throw std::logic_error{"no chord there"};
}

}  // namespace

TEST_CASE("chords of textbook progressions get a scale, key and function that a teacher accepts",
          "[harmony][shared]") {
    const std::vector<TableRow> rows = cases();
    if (rows.empty()) {
        WARN("skipped: ../shared/reference/functions/textbook-cases.tsv is not there");
        return;
    }
    std::size_t scales = 0;
    std::size_t keys = 0;
    std::size_t functions = 0;
    for (const TableRow& row : rows) {
        const Analysed tune = analysed(row.at("chart"));
        const Reading& reading = reading_at(tune, std::stoi(row.at("bar")), std::stoi(row.at("beat")));
        if (is_one_of(pitch_classes(reading.scale.scale), row.at("pitch_classes"))) ++scales;
        if (is_one_of(to_string(reading.key), row.at("keys_accepted"))) ++keys;
        if (is_one_of(to_string(reading.function), row.at("functions_accepted"))) ++functions;
    }
    // 97 in a hundred of each.
    CHECK(100 * scales >= 97 * rows.size());
    CHECK(100 * keys >= 97 * rows.size());
    CHECK(100 * functions >= 97 * rows.size());
}

TEST_CASE("real lead sheets are read to the last chord", "[harmony][shared]") {
    const fs::path folder = fs::path{SHEDBOOK_SHARED_DIR} / "reference" / "leadsheets";
    if (!fs::exists(folder)) {
        WARN("skipped: ../shared/reference/leadsheets is not there");
        return;
    }
    std::set<fs::path> files;
    for (const fs::directory_entry& entry : fs::directory_iterator{folder}) {
        if (entry.path().extension() == ".mxl") files.insert(entry.path());
    }
    REQUIRE_FALSE(files.empty());
    for (const fs::path& file : files) {
        INFO(file.filename().string());
        Diagnostics diagnostics;
        const auto chart = read_chart(file.string(), read_file(file.string()), {}, diagnostics);
        REQUIRE(chart);
        const Analysed tune = analysed(*chart);
        std::size_t symbols = 0;
        for (const WrittenBar& bar : written_bars(*chart)) {
            symbols += static_cast<std::size_t>(std::ranges::count_if(
                bar.bar->chords, [](const PlacedChord& placed) { return placed.symbol.has_value(); }));
        }
        CHECK(tune.analysis.readings.size() == symbols);
        for (const Reading& reading : tune.analysis.readings) {
            CHECK_FALSE(reading.numeral.empty());
            CHECK_FALSE(in_words(reading.scale.reason).empty());
            CHECK_FALSE(reading.scale.notes.empty());
        }
    }
}

}  // namespace shedbook
