// Files of tunes in and out, found by their ending. A new form is a row in the table of readers.cpp.
//
//     auto chart = read_chart("song.mxl", read_file("song.mxl"), {}, diagnostics);
//     chart_endings();                                         // ".tune, .txt ... or .abc"
//     std::string text = write_tune(*chart);
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

struct ReadOptions {
    std::string part =
        {};  // of a MusicXML score with several parts: its id or name; empty: the one with chord symbols
};

struct ChartReader {
    std::string_view ending;  // ".tune"
    std::string_view about;   // in words
    std::optional<Chart> (*read)(const std::string& file_name, const std::string& bytes,
                                 const ReadOptions& options, Diagnostics& diagnostics);
};
[[nodiscard]] std::span<const ChartReader> chart_readers();
// Their endings, for help texts and messages: ".tune, .txt ... or .abc".
[[nodiscard]] std::string chart_endings();

// `file_name` decides by its ending, "-" and unknown endings by the first characters of the text. `bytes` is
// the file's content.
[[nodiscard]] std::optional<Chart> read_chart(const std::string& file_name, const std::string& bytes,
                                              const ReadOptions& options, Diagnostics& diagnostics);

[[nodiscard]] std::optional<Chart> read_tune(const SourceText& source, Diagnostics& diagnostics);
// As far as it can be understood, for whoever looks at it while it is being written: a chord that is none
// stands as no chord.
struct UnfinishedTune {
    std::optional<Chart> chart;  // nothing if it has no bars
    bool is_pasted = false;      // it was no chart of ours: only the lines of places in it count
};
[[nodiscard]] UnfinishedTune read_unfinished_tune(const SourceText& source, Diagnostics& diagnostics);
[[nodiscard]] std::optional<Chart> read_chart_json(const SourceText& source, Diagnostics& diagnostics);
[[nodiscard]] std::optional<Chart> read_lead_sheet(const std::string& name, const std::string& xml,
                                                   const ReadOptions& options, Diagnostics& diagnostics);

// The first tune of an ABC file (standard 2.1), its first voice.
[[nodiscard]] std::optional<Chart> read_abc(const SourceText& source, Diagnostics& diagnostics);

// The tidy form of a text chart: four bars a line in columns, comments kept. Reading it and writing it again
// gives the same text. Melody is not part of a text chart: see lost_in_tune.
[[nodiscard]] std::string write_tune(const Chart& chart, const SymbolStyle& style = {});
// Whether a chart says more than a text chart can hold, in words ("the melody"); empty if not.
[[nodiscard]] std::vector<std::string> lost_in_tune(const Chart& chart);
// The same of a MusicXML part: notes of the writer's own, fixed scales, brackets of optional chords.
[[nodiscard]] std::vector<std::string> lost_in_score(const Chart& chart);
[[nodiscard]] std::string write_chart_json(const Chart& chart, Diagnostics& diagnostics);

}  // namespace shedbook
