#include "shedbook/io/csv.h"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <optional>
#include <string_view>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

char separator_of(std::string_view line) {
    char out = ',';
    for (const char c : {';', '\t'}) {
        if (std::ranges::count(line, c) > std::ranges::count(line, out)) out = c;
    }
    return out;
}

Data value(const CsvCell& cell) {
    const std::string text{trimmed(cell.text)};
    std::int64_t number = 0;
    const char* end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, number);
    if (error == std::errc{} && stopped == end) return {number, cell.where};
    return {text, cell.where};
}

Data row(const std::vector<CsvCell>& cells, const std::vector<std::pair<std::string, Span>>& columns,
         const SourceText& source, Diagnostics& diagnostics) {
    Data::Object members;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (trimmed(cells[i].text).empty()) continue;
        if (i < columns.size()) {
            members.emplace_back(columns[i].first, value(cells[i]));
        } else {
            diagnostics.error(source, cells[i].where, "this row has more cells than there are columns",
                              "text with a comma in it stands between quotation marks");
            break;
        }
    }
    const std::size_t begin = cells.front().where.begin;
    return {std::move(members), {begin, begin + source.line_at(begin).size()}};
}

}  // namespace

CsvReader::CsvReader(const SourceText& source, Diagnostics& diagnostics)
    : source_{source}, diagnostics_{diagnostics} {
    constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
    if (source.text.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
    separator_ = separator_of(source.line_at(at_));
}

std::optional<std::vector<CsvCell>> CsvReader::next() {
    while (at_ < source_.text.size()) {
        std::vector<CsvCell> cells = line();
        if (std::ranges::any_of(cells, [](const CsvCell& cell) { return !cell.text.empty(); })) return cells;
    }
    return std::nullopt;
}

bool CsvReader::at_line_end() const {
    return at_ >= source_.text.size() || source_.text[at_] == '\n' || source_.text[at_] == '\r';
}

std::vector<CsvCell> CsvReader::line() {
    std::vector<CsvCell> out;
    while (true) {
        out.push_back(cell());
        if (at_line_end()) break;
        ++at_;  // the separator
    }
    if (at_ < source_.text.size()) ++at_;
    return out;
}

CsvCell CsvReader::cell() {
    const std::string& text = source_.text;
    while (!at_line_end() && text[at_] == ' ') ++at_;
    if (!at_line_end() && text[at_] == '"') return quoted_cell();
    const std::size_t begin = at_;
    while (!at_line_end() && text[at_] != separator_) ++at_;
    const std::string_view cell = trimmed(std::string_view{text}.substr(begin, at_ - begin));
    return {std::string{cell}, {begin, begin + cell.size()}};
}

CsvCell CsvReader::quoted_cell() {
    const std::string& text = source_.text;
    const std::size_t begin = at_++;
    std::string out;
    while (at_ < text.size()) {
        if (text[at_] != '"') {
            out += text[at_++];
        } else if (at_ + 1 < text.size() && text[at_ + 1] == '"') {
            out += '"';
            at_ += 2;
        } else {
            const Span where{begin, ++at_};
            while (!at_line_end() && text[at_] != separator_) ++at_;
            return {std::move(out), where};
        }
    }
    // Only its own line is lost.
    at_ = std::min(text.find_first_of("\r\n", begin), text.size());
    diagnostics_.error(source_, {begin, at_}, "this text has no closing quotation mark");
    return {text.substr(begin + 1, at_ - begin - 1), {begin, at_}};
}

CsvTable read_csv(const SourceText& source, Diagnostics& diagnostics) {
    CsvReader reader{source, diagnostics};
    CsvTable out;
    const auto heading = reader.next();
    if (!heading) return out;
    for (const CsvCell& cell : *heading) out.columns.emplace_back(lower_case(trimmed(cell.text)), cell.where);
    while (const auto cells = reader.next())
        out.rows.push_back(row(*cells, out.columns, source, diagnostics));
    return out;
}

}  // namespace shedbook
