#include "shedbook/io/csv.h"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <optional>
#include <string_view>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct Cell {
    std::string text;
    Span where;
};

char separator_of(std::string_view line) {
    char out = ',';
    for (const char c : {';', '\t'}) {
        if (std::ranges::count(line, c) > std::ranges::count(line, out)) out = c;
    }
    return out;
}

class CsvReader {
  public:
    CsvReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics} {
        constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
        if (source.text.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
        separator_ = separator_of(source.line_at(at_));
    }

    CsvTable read() {
        CsvTable out;
        while (out.columns.empty() && at_ < source_.text.size()) {
            for (Cell& cell : read_line()) out.columns.emplace_back(lower_case(cell.text), cell.where);
        }
        while (at_ < source_.text.size()) {
            const std::size_t begin = at_;
            const std::vector<Cell> cells = read_line();
            if (!cells.empty()) out.rows.push_back(row(cells, out.columns, begin));
        }
        return out;
    }

  private:
    [[nodiscard]] bool at_line_end() const { return at_ >= source_.text.size() || source_.text[at_] == '\n'; }

    // The cells of a line; none where it is empty.
    std::vector<Cell> read_line() {
        std::vector<Cell> out;
        while (true) {
            out.push_back(read_cell());
            if (at_line_end()) break;
            ++at_;  // the separator
        }
        if (at_ < source_.text.size()) ++at_;
        const bool is_empty = std::ranges::all_of(out, [](const Cell& cell) { return cell.text.empty(); });
        return is_empty ? std::vector<Cell>{} : out;
    }

    Cell read_cell() {
        const std::string& text = source_.text;
        while (!at_line_end() && text[at_] == ' ') ++at_;
        if (!at_line_end() && text[at_] == '"') return read_quoted_cell();
        const std::size_t begin = at_;
        while (!at_line_end() && text[at_] != separator_) ++at_;
        const std::string_view cell = trimmed(std::string_view{text}.substr(begin, at_ - begin));
        return {std::string{cell}, {begin, begin + cell.size()}};
    }

    Cell read_quoted_cell() {
        const std::string& text = source_.text;
        const std::size_t begin = at_++;
        std::string out;
        while (!at_line_end()) {
            if (text[at_] != '"') {
                out += text[at_++];
            } else if (at_ + 1 < text.size() && text[at_ + 1] == '"') {
                out += '"';
                at_ += 2;
            } else {
                const Span where{begin, ++at_};
                while (!at_line_end() && text[at_] != separator_) ++at_;
                return {std::string{trimmed(out)}, where};
            }
        }
        diagnostics_.error(source_, {begin, at_}, "this text has no closing quotation mark");
        return {std::string{trimmed(out)}, {begin, at_}};
    }

    Data row(const std::vector<Cell>& cells, const std::vector<std::pair<std::string, Span>>& columns,
             std::size_t begin) {
        Data::Object members;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (cells[i].text.empty()) continue;
            if (i < columns.size()) {
                members.emplace_back(columns[i].first, value(cells[i]));
            } else {
                diagnostics_.error(source_, cells[i].where, "this row has more cells than there are columns",
                                   "text with a comma in it stands between quotation marks");
                break;
            }
        }
        return {std::move(members), {begin, begin + source_.line_at(begin).size()}};
    }

    static Data value(const Cell& cell) {
        std::int64_t number = 0;
        const char* end = cell.text.data() + cell.text.size();
        const auto [stopped, error] = std::from_chars(cell.text.data(), end, number);
        if (error == std::errc{} && stopped == end) return {number, cell.where};
        return {cell.text, cell.where};
    }

    const SourceText& source_;
    Diagnostics& diagnostics_;
    std::size_t at_ = 0;
    char separator_ = ',';
};

}  // namespace

CsvTable read_csv(const SourceText& source, Diagnostics& diagnostics) {
    return CsvReader{source, diagnostics}.read();
}

}  // namespace shedbook
