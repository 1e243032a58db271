#include "class_summary.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <iostream>
#include <ostream>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::size_t kColumns = 6;
using Cells = std::array<std::string, kColumns>;

Cells cells_of(const SummaryRow& row) {
    const std::string left_out = row.left_out.empty() ? "-" : std::to_string(row.left_out.size());
    return {row.who, row.instrument, row.level, row.bars, left_out, row.file};
}

void write_row(const Cells& cells, const std::array<std::size_t, kColumns>& widths, std::ostream& out) {
    std::string line;
    for (std::size_t c = 0; c < kColumns; ++c) {
        line += cells[c];
        if (c + 1 < kColumns) line += std::string(widths[c] + 2 - count_characters(cells[c]), ' ');
    }
    out << line << "\n";
}

}  // namespace

ProgressLine::ProgressLine(std::size_t all) : all_{all}, is_seen_{isatty(STDERR_FILENO) == 1} {}

ProgressLine::~ProgressLine() {
    if (is_seen_ && done_ > 0) std::cerr << "\r\x1b[K" << std::flush;
}

void ProgressLine::next(const std::string& what) {
    ++done_;
    if (is_seen_) std::cerr << "\r\x1b[K" << done_ << "/" << all_ << " " << what << std::flush;
}

std::vector<std::string> left_out_of(const Diagnostics& said) {
    std::vector<std::string> out;
    for (const Diagnostic& diagnostic : said.all()) {
        std::string line = diagnostic.where.empty() ? "" : diagnostic.where + ": ";
        out.push_back(line + diagnostic.message);
    }
    return out;
}

void write_summary(const std::vector<SummaryRow>& rows, std::ostream& out) {
    std::vector<Cells> table{{"who", "instrument", "level", "bars", "left out", "file"}};
    for (const SummaryRow& row : rows) table.push_back(cells_of(row));
    std::array<std::size_t, kColumns> widths{};
    for (const Cells& cells : table) {
        for (std::size_t c = 0; c < kColumns; ++c)
            widths[c] = std::max(widths[c], count_characters(cells[c]));
    }
    for (const Cells& cells : table) write_row(cells, widths, out);
    std::vector<std::pair<std::string, std::vector<std::string>>> lines;
    for (const SummaryRow& row : rows) {
        for (const std::string& line : row.left_out) {
            auto at = std::ranges::find(lines, line, &decltype(lines)::value_type::first);
            if (at == lines.end()) at = lines.insert(at, {line, {}});
            if (at->second.empty() || at->second.back() != row.who) at->second.push_back(row.who);
        }
    }
    if (!lines.empty()) out << "\nLeft out:\n";
    for (const auto& [line, who] : lines) out << "  " << line << " (" << join(who, ", ") << ")\n";
}

}  // namespace shedbook
