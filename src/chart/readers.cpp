#include "shedbook/chart/readers.h"

#include <algorithm>
#include <array>
#include <utility>

#include "encoding.h"
#include "shedbook/base/text.h"
#include "shedbook/io/zip.h"

namespace shedbook {
namespace {

struct Input {
    const std::string& name;
    const std::string& bytes;
    const ReadOptions& options;
    Diagnostics& diagnostics;
};

using TextReader = std::optional<Chart>(const SourceText&, Diagnostics&);

// Text that a person may have saved in whatever encoding the editor had.
std::optional<Chart> read_text(TextReader reader, const Input& input) {
    std::optional<std::string> text = to_utf8(input.name, input.bytes, input.diagnostics);
    if (!text) return std::nullopt;
    return reader(SourceText{input.name, *std::move(text)}, input.diagnostics);
}

std::optional<Chart> tune(const Input& input) {
    return read_text(read_tune, input);
}

std::optional<Chart> json(const Input& input) {
    return read_text(read_chart_json, input);
}

std::optional<Chart> abc(const Input& input) {
    return read_text(read_abc, input);
}

std::optional<Chart> lead_sheet(const Input& input) {
    return read_lead_sheet(input.name, input.bytes, input.options, input.diagnostics);
}

std::optional<Chart> zipped(const Input& input) {
    const auto score = read_mxl(input.name, input.bytes, input.diagnostics);
    if (!score) return std::nullopt;
    return read_lead_sheet(input.name, *score, input.options, input.diagnostics);
}

struct ReaderRow {
    std::string_view ending;
    std::optional<Chart> (*read)(const Input&);
};

constexpr std::array<ReaderRow, 7> kReaders{{
    {".tune", tune},
    {".txt", tune},
    {".json", json},
    {".musicxml", lead_sheet},
    {".xml", lead_sheet},
    {".mxl", zipped},
    {".abc", abc},
}};

// By its first characters, for standard input and endings that say nothing.
const ReaderRow& reader_by_content(const std::string& bytes) {
    const auto by_ending = [](std::string_view ending) -> const ReaderRow& {
        return *std::ranges::find(kReaders, ending, &ReaderRow::ending);
    };
    if (looks_like_zip(bytes)) return by_ending(".mxl");
    std::string_view text = bytes;
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const bool is_utf16 = text.starts_with("\xFE\xFF") || text.starts_with("\xFF\xFE");
    text = trimmed(text);
    if (is_utf16 || text.starts_with('<') || text.starts_with(std::string_view{"\0<", 2}))
        return by_ending(".xml");
    if (text.starts_with('{')) return by_ending(".json");
    if (text.starts_with("%abc") || text.starts_with("X:")) return by_ending(".abc");
    return by_ending(".tune");
}

const ReaderRow& find_reader(const std::string& file_name, const std::string& bytes) {
    // A file that is a zip archive is one whatever it is called, and the other way round.
    const bool is_zip = looks_like_zip(bytes);
    const std::string name = lower_case(file_name);
    for (const ReaderRow& row : kReaders) {
        if (name.ends_with(row.ending) && (row.ending == ".mxl") == is_zip) return row;
    }
    return reader_by_content(bytes);
}

std::string stem_of(std::string_view file_name) {
    const std::size_t slash = file_name.find_last_of("/\\");
    if (slash != std::string_view::npos) file_name.remove_prefix(slash + 1);
    const std::size_t dot = file_name.rfind('.');
    return std::string{dot == 0 ? file_name : file_name.substr(0, dot)};
}

}  // namespace

std::optional<Chart> read_chart(const std::string& file_name, const std::string& bytes,
                                const ReadOptions& options, Diagnostics& diagnostics) {
    auto chart = find_reader(file_name, bytes).read({file_name, bytes, options, diagnostics});
    if (!chart) return std::nullopt;
    if (chart->id.empty()) chart->id = file_name == "-" ? std::string{"tune"} : stem_of(file_name);
    return chart;
}

}  // namespace shedbook
