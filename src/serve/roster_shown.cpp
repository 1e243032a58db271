#include "roster_shown.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <optional>
#include <utility>
#include <vector>

#include "json.h"
#include "shedbook/base/text.h"
#include "shedbook/book/roster.h"
#include "shedbook/io/csv.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {
namespace {

constexpr std::array<const char*, 3> kNeededColumns{"name", "instrument", "level"};
constexpr std::array<const char*, 7> kListedColumns{"name", "instrument", "level",     "range",
                                                    "goal", "plan",       "fingerings"};

using ShownRow = std::vector<CsvCell>;

struct ShownRoster {
    std::vector<std::string> columns;
    std::vector<ShownRow> rows;
    std::vector<Span> places;  // of the rows
};

ShownRoster shown_table(const SourceText& source) {
    Diagnostics unheard;
    CsvReader reader{source, unheard};
    ShownRoster out;
    if (const auto head = reader.next()) {
        for (const CsvCell& cell : *head) out.columns.push_back(lower_case(cell.text));
    }
    while (auto row = reader.next()) {
        out.places.push_back(
            {row->empty() ? 0 : row->front().where.begin, row->empty() ? 0 : row->back().where.end});
        row->resize(std::max(row->size(), out.columns.size()),
                    {"", {out.places.back().end, out.places.back().end}});
        out.rows.push_back(*std::move(row));
    }
    return out;
}

std::string text_of(const Data* value) {
    if (value == nullptr) return {};
    if (const auto number = value->as_int()) return std::to_string(*number);
    return value->as_string().value_or("");
}

// What a student does not say is what the list says for all.
ShownRoster shown_list(const SourceText& source) {
    Diagnostics unheard;
    ShownRoster out;
    out.columns.assign(kListedColumns.begin(), kListedColumns.end());
    const std::optional<Data> data = read_toml(source, unheard);
    const Data* students = data ? data->find("student") : nullptr;
    const Data::Array* entries = students != nullptr ? students->as_array() : nullptr;
    if (entries == nullptr) return out;
    for (const Data& entry : *entries) {
        ShownRow row;
        for (const std::string& column : out.columns) {
            const Data* own = entry.find(column);
            row.push_back(own != nullptr ? CsvCell{text_of(own), own->where}
                                         : CsvCell{text_of(data->find(column)), entry.where});
        }
        out.places.push_back(entry.where);
        out.rows.push_back(std::move(row));
    }
    return out;
}

ShownRoster shown_roster(const SourceText& source) {
    return source.name.ends_with(".csv") ? shown_table(source) : shown_list(source);
}

bool holds(const Span& span, std::size_t byte) {
    return span.begin <= byte && byte <= span.end;
}

// The cell in which a place of the text lies; of a whole row, its first.
struct CellPlace {
    std::size_t row = 0;  // from 0, without the head
    std::string column;
};
std::optional<CellPlace> cell_at(const ShownRoster& roster, std::size_t byte) {
    for (std::size_t r = 0; r < roster.rows.size(); ++r) {
        const ShownRow& row = roster.rows[r];
        const auto cell =
            std::ranges::find_if(row, [&](const CsvCell& each) { return holds(each.where, byte); });
        if (cell == row.end() && !holds(roster.places[r], byte)) continue;
        const auto c = cell == row.end() ? std::size_t{0} : static_cast<std::size_t>(cell - row.begin());
        return CellPlace{r, c < roster.columns.size() ? roster.columns[c] : ""};
    }
    return std::nullopt;
}

Data slip_in_roster(const Diagnostic& said, const ShownRoster& roster) {
    const std::optional<CellPlace> cell = said.span ? cell_at(roster, said.span->begin) : std::nullopt;
    Data::Array instead;
    for (const Mending& mending : said.mendings)
        instead.push_back(as_data(Data::Object{{"text", as_data(mending.text)}}));
    return as_data(Data::Object{{"row", cell ? size_as_data(cell->row) : Data{}},
                                {"column", cell ? text_or_null(cell->column) : Data{}},
                                {"severity", as_data(said.severity == Severity::Error ? "error" : "warning")},
                                {"message", as_data(said.message)},
                                {"hint", as_data(said.hint)},
                                {"instead", as_data(std::move(instead))}});
}

Data known_words() {
    std::vector<std::string> ids;
    for (const Instrument& instrument : instruments()) ids.push_back(instrument.id);
    std::vector<std::string> plans = plan_names();
    plans.emplace_back("none");
    return as_data(
        Data::Object{{"instrument", as_data(ids)},
                     {"level", as_data(std::vector<std::string>{"1", "2", "3", "4", "5", "6"})},
                     {"plan", as_data(plans)},
                     {"range", as_data(std::vector<std::string>{"first", "student", "practical", "full"})},
                     {"fingerings", as_data(words_of<Fingerings>())}});
}

}  // namespace

std::string class_called(const std::string& file) {
    return std::filesystem::path{file}.stem().string();
}

bool is_roster(const std::string& file, const std::string& text) {
    const ShownRoster roster = shown_roster(SourceText{file, text});
    if (!file.ends_with(".csv")) return !roster.rows.empty();
    return std::ranges::all_of(kNeededColumns, [&](const char* column) {
        return std::ranges::find(roster.columns, column) != roster.columns.end();
    });
}

Data::Object roster_as_data(const std::string& file, const StoredText& stored) {
    const SourceText source{file, stored.text};
    const ShownRoster roster = shown_roster(source);
    Diagnostics said;
    static_cast<void>(read_roster(source, said));
    Data::Array slips;
    for (const Diagnostic& each : said.all()) slips.push_back(slip_in_roster(each, roster));
    Data::Array cells;
    for (const ShownRow& row : roster.rows) {
        std::vector<std::string> texts;
        for (const CsvCell& cell : row) texts.push_back(cell.text);
        cells.push_back(as_data(texts));
    }
    return {{"name", as_data(class_called(file))},  {"editable", {file.ends_with(".csv")}},
            {"revision", as_data(stored.revision)}, {"changed", as_data(stored.changed)},
            {"columns", as_data(roster.columns)},   {"known", known_words()},
            {"rows", as_data(std::move(cells))},    {"slips", as_data(std::move(slips))}};
}

}  // namespace shedbook
