#include "class_summary.h"

#include <algorithm>
#include <array>
#include <ostream>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::size_t kColumns = 6;
constexpr std::size_t kMostNamed = 4;
using Cells = std::array<std::string, kColumns>;

Cells cells_of(const ClassRow& row) {
    const std::string left_out = row.left_out.all().empty() ? "-" : std::to_string(row.left_out.all().size());
    return {row.who,  row.instrument, row.level,
            row.bars, left_out,       row.file.empty() ? "not written" : row.file};
}

void write_row(const Cells& cells, const std::array<std::size_t, kColumns>& widths, std::ostream& out) {
    std::string line;
    for (std::size_t c = 0; c < kColumns; ++c) {
        line += cells[c];
        if (c + 1 < kColumns) line += std::string(widths[c] + 2 - count_characters(cells[c]), ' ');
    }
    out << line << "\n";
}

// A reason, with the chords or scales and the people that it was given for.
struct LeftOut {
    std::string why;
    std::vector<std::string> where;
    std::vector<std::string> who;
};

void add(std::vector<std::string>& list, const std::string& item) {
    if (std::ranges::find(list, item) == list.end()) list.push_back(item);
}

std::vector<LeftOut> reasons_of(const std::vector<ClassRow>& rows) {
    std::vector<LeftOut> out;
    for (const ClassRow& row : rows) {
        for (const Diagnostic& said : row.left_out.all()) {
            auto at = std::ranges::find(out, said.message, &LeftOut::why);
            if (at == out.end()) at = out.insert(at, {said.message, {}, {}});
            add(at->where, said.where);
            add(at->who, row.who);
        }
    }
    return out;
}

// "Dm7, D Dorian; G7, G Mixolydian; 3 more"
std::string some_of(std::vector<std::string> list, std::string_view between) {
    if (list.size() > kMostNamed) {
        const std::string more = std::to_string(list.size() - kMostNamed) + " more";
        list.resize(kMostNamed);
        list.push_back(more);
    }
    return join(list, between);
}

void write_left_out(const std::vector<ClassRow>& rows, std::ostream& out) {
    const std::vector<LeftOut> reasons = reasons_of(rows);
    if (!reasons.empty()) out << "\nLeft out:\n";
    for (const LeftOut& reason : reasons) {
        out << "  " << some_of(reason.who, ", ") << ": " << reason.why << " (" << some_of(reason.where, "; ")
            << ")\n";
    }
}

}  // namespace

void write_summary(const std::vector<ClassRow>& rows, std::ostream& out) {
    std::vector<Cells> table{{"who", "instrument", "level", "bars", "left out", "file"}};
    for (const ClassRow& row : rows) table.push_back(cells_of(row));
    std::array<std::size_t, kColumns> widths{};
    for (const Cells& cells : table) {
        for (std::size_t c = 0; c < kColumns; ++c)
            widths[c] = std::max(widths[c], count_characters(cells[c]));
    }
    for (const Cells& cells : table) write_row(cells, widths, out);
    write_left_out(rows, out);
}

}  // namespace shedbook
