#include "shedbook/chart/readers.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "encoding.h"
#include "shedbook/base/text.h"
#include "shedbook/io/zip.h"

namespace shedbook {
namespace {

using TextReader = std::optional<Chart>(const SourceText&, Diagnostics&);

// Text that a person may have saved in whatever encoding the editor had.
template <TextReader* kReader>
std::optional<Chart> read_text(const std::string& name, const std::string& bytes,
                               const ReadOptions& /*one part*/, Diagnostics& diagnostics) {
    std::optional<std::string> text = to_utf8(name, bytes, diagnostics);
    if (!text) return std::nullopt;
    return kReader(SourceText{name, *std::move(text)}, diagnostics);
}

std::optional<Chart> read_packed(const std::string& name, const std::string& bytes,
                                 const ReadOptions& options, Diagnostics& diagnostics) {
    const auto score = read_mxl(name, bytes, diagnostics);
    if (!score) return std::nullopt;
    return read_lead_sheet(name, *score, options, diagnostics);
}

constexpr ChartReader kReaders[] = {
    {".tune", "text chart", read_text<read_tune>},
    {".txt", "text chart", read_text<read_tune>},
    {".json", "chart as JSON, for programs", read_text<read_chart_json>},
    {".musicxml", "MusicXML lead sheet", read_lead_sheet},
    {".xml", "MusicXML lead sheet", read_lead_sheet},
    {".mxl", "compressed MusicXML lead sheet", read_packed},
    {".abc", "tune in ABC, of one voice", read_text<read_abc>},
};

// By its first characters, for standard input and endings that say nothing.
const ChartReader& reader_by_content(const std::string& bytes) {
    const auto by_ending = [](std::string_view ending) -> const ChartReader& {
        return *std::ranges::find(kReaders, ending, &ChartReader::ending);
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

// "{" and a name in quotation marks: no text chart begins so.
bool looks_like_json(std::string_view bytes) {
    if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
    bytes = trimmed(bytes);
    return bytes.starts_with('{') && trimmed(bytes.substr(1)).starts_with('"');
}

const ChartReader& find_reader(const std::string& file_name, const std::string& bytes) {
    // A file that is a zip archive is one whatever it is called, and the other way round.
    const bool is_zip = looks_like_zip(bytes);
    const std::string name = lower_case(file_name);
    // JSON under the name of a text chart is read as what it is.
    const bool is_other = (name.ends_with(".tune") || name.ends_with(".txt")) && looks_like_json(bytes);
    for (const ChartReader& row : kReaders) {
        if (!is_other && name.ends_with(row.ending) && (row.ending == ".mxl") == is_zip) return row;
    }
    return reader_by_content(bytes);
}

// Files that are no charts, whatever they are called: how they begin, what they are, and what to do.
struct NoChart {
    std::string_view beginning;
    std::string_view what;
    std::string_view hint;
};
constexpr NoChart kNoCharts[]{
    {"%PDF", "a PDF, which holds drawn pages and no chords to read",
     "type its changes: shedbook new \"My Tune\""},
    {"\x89PNG", "a picture (PNG)", "type its changes: shedbook new \"My Tune\""},
    {"\xFF\xD8\xFF", "a picture (JPEG)", "type its changes: shedbook new \"My Tune\""},
    {"GIF8", "a picture (GIF)", "type its changes: shedbook new \"My Tune\""},
    {"MThd", "a MIDI file, which holds notes and no chord symbols",
     "a notation editor can save it as MusicXML; chord symbols must be written into it"},
    {"RIFF", "a sound file", "the changes must be typed: shedbook new \"My Tune\""},
    {"ID3", "a sound file", "the changes must be typed: shedbook new \"My Tune\""},
    {"fLaC", "a sound file", "the changes must be typed: shedbook new \"My Tune\""},
    {"OggS", "a sound file", "the changes must be typed: shedbook new \"My Tune\""},
    {"{\\rtf", "a text with a word processor's marks (RTF)", "save it as plain text, UTF-8"},
    {"<!DOCTYPE html", "a web page", "copy its chords into a text file"},
    {"<html", "a web page", "copy its chords into a text file"},
};

bool say_no_chart(const std::string& name, std::string_view bytes, Diagnostics& diagnostics) {
    for (const NoChart& row : kNoCharts) {
        if (!bytes.starts_with(row.beginning)) continue;
        diagnostics.error_at(name, "this is " + std::string{row.what}, std::string{row.hint});
        return true;
    }
    return false;
}

std::string stem_of(std::string_view file_name) {
    const std::size_t slash = file_name.find_last_of("/\\");
    if (slash != std::string_view::npos) file_name.remove_prefix(slash + 1);
    const std::size_t dot = file_name.rfind('.');
    return std::string{dot == 0 ? file_name : file_name.substr(0, dot)};
}

}  // namespace

std::span<const ChartReader> chart_readers() {
    return kReaders;
}

std::string chart_endings() {
    std::string out;
    for (const ChartReader& reader : kReaders) {
        if (!out.empty()) out += &reader == std::end(kReaders) - 1 ? " or " : ", ";
        out += reader.ending;
    }
    return out;
}

std::optional<Chart> read_chart(const std::string& file_name, const std::string& bytes,
                                const ReadOptions& options, Diagnostics& diagnostics) {
    if (say_no_chart(file_name, bytes, diagnostics)) return std::nullopt;
    auto chart = find_reader(file_name, bytes).read(file_name, bytes, options, diagnostics);
    if (!chart) return std::nullopt;
    if (chart->id.empty()) chart->id = file_name == "-" ? std::string{"tune"} : stem_of(file_name);
    return chart;
}

}  // namespace shedbook
