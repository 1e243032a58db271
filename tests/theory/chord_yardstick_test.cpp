// Chord symbols against a yardstick of several thousand spellings and against real lead sheets, where they
// are at hand: reference/chords (readings on which independent open-source libraries agree) and
// reference/leadsheets (OpenEWLD).
#include <catch2/catch.hpp>
#include <fstream>
#include <map>

#include "shedbook/base/text.h"
#include "shedbook/theory/chord_xml.h"

namespace shedbook {
namespace {

using TableRow = std::map<std::string, std::string>;

// The rows of a table with tabs, by the names in its first line; empty if there is no such file.
std::vector<TableRow> table(const std::string& file) {
    std::ifstream stream{std::string{SHEDBOOK_SHARED_DIR} + "/reference/" + file};
    std::vector<TableRow> out;
    std::string line;
    if (!std::getline(stream, line)) return out;
    const std::string header = line;
    const std::vector<std::string_view> names = split(header, '\t');
    while (std::getline(stream, line)) {
        const std::vector<std::string_view> cells = split(line, '\t');
        TableRow row;
        for (std::size_t i = 0; i < names.size() && i < cells.size(); ++i)
            row[std::string{names[i]}] = cells[i];
        out.push_back(std::move(row));
    }
    return out;
}

bool is_absent(const std::vector<TableRow>& rows, const std::string& file) {
    if (rows.empty()) WARN("skipped: ../shared/reference/" << file << " is not there");
    return rows.empty();
}

unsigned pitch_bits(const std::string& semitones) {
    unsigned out = 0;
    if (semitones == "-") return out;
    for (const std::string_view number : split(semitones, ' ')) out |= 1U << std::stoul(std::string{number});
    return out;
}

std::string name_or_dash(const std::optional<PitchClass>& note) {
    return note ? to_string(*note) : "-";
}

double percent(std::size_t part, std::size_t whole) {
    return 100.0 * static_cast<double>(part) / static_cast<double>(whole);
}

}  // namespace

TEST_CASE("the yardstick of spellings is read: all roots and basses, 99 of 100 sets of tones",
          "[theory][yardstick]") {
    const auto rows = table("chords/chords-dev.tsv");
    if (is_absent(rows, "chords/chords-dev.tsv")) return;
    std::size_t notes_right = 0;
    std::size_t tones_right = 0;
    for (const TableRow& row : rows) {
        const std::string& text = row.at("symbol");
        if (row.at("root") == "-") {
            notes_right += is_no_chord(text) ? 1 : 0;
            tones_right += is_no_chord(text) ? 1 : 0;
            continue;
        }
        const auto symbol = parse_chord_symbol(text);
        const bool notes = symbol && to_string(symbol->root) == row.at("root") &&
                           name_or_dash(symbol->bass) == row.at("bass");
        const unsigned wanted = pitch_bits(row.at("pcs"));
        const unsigned allowed = wanted | pitch_bits(row.at("optional"));
        const unsigned heard = symbol ? pitch_set(*symbol) : 0;
        const bool tones = (heard & wanted) == wanted && (heard & ~allowed) == 0;
        notes_right += notes ? 1 : 0;
        tones_right += tones ? 1 : 0;
        if (!notes || !tones) {
            WARN("missed: " << text << " read as " << (symbol ? to_string(*symbol) : "nothing")
                            << ", expected " << row.at("root") << " " << row.at("pcs"));
        }
    }
    INFO(notes_right << " roots and basses, " << tones_right << " sets of tones of " << rows.size());
    CHECK(notes_right == rows.size());
    CHECK(percent(tones_right, rows.size()) >= 99.0);
}

TEST_CASE("98 of 100 texts that are no chord symbols are refused", "[theory][yardstick]") {
    const auto rows = table("chords/rejects-dev.tsv");
    if (is_absent(rows, "chords/rejects-dev.tsv")) return;
    std::size_t refused = 0;
    for (const TableRow& row : rows) {
        const auto symbol = parse_chord_symbol(row.at("symbol"));
        refused += symbol ? 0 : 1;
        if (symbol) WARN("not refused: " << row.at("symbol") << " read as " << to_string(*symbol));
    }
    INFO(refused << " of " << rows.size());
    CHECK(percent(refused, rows.size()) >= 98.0);
}

TEST_CASE("harmonies of real lead sheets sound as their kind and degrees say", "[theory][yardstick]") {
    const auto rows = table("leadsheets/chords.tsv");
    if (is_absent(rows, "leadsheets/chords.tsv")) return;
    std::size_t checked = 0;
    for (const TableRow& row : rows) {
        if (row.at("pcs") == "-") continue;
        XmlHarmony harmony;
        harmony.root = *parse_pitch_class(row.at("root"));
        harmony.kind = row.at("kind");
        if (row.at("text") != "-") harmony.text = row.at("text");
        for (const std::string_view word : split(row.at("degrees"), ',')) {
            if (word == "-") continue;
            // "addb9", "alter#5"
            const std::size_t number = word.find_first_of("b#0123456789", 3);
            const auto type = from_word<XmlDegreeType>(word.substr(0, number));
            const auto degree = parse_degree(word.substr(number));
            REQUIRE(type);
            REQUIRE(degree);
            harmony.degrees.push_back({degree->steps() + 1, degree->alter(), *type});
        }
        const XmlReading reading = read_xml_chord(harmony);
        INFO(row.at("file") << " bar " << row.at("bar") << ": " << row.at("kind") << " "
                            << row.at("degrees"));
        REQUIRE(reading.symbol);
        CHECK(full_pitch_set(*reading.symbol) == pitch_bits(row.at("pcs")));
        ++checked;
    }
    CHECK(checked > 1000);
}

}  // namespace shedbook
