// Short ways for the tests of this folder: a chart typed as bars, read, unfolded and analysed.
#pragma once

#include <catch2/catch.hpp>
#include <filesystem>
#include <set>
#include <string>

#include "shedbook/chart/readers.h"
#include "shedbook/harmony/analysis.h"
#include "shedbook/io/files.h"

namespace shedbook {

struct Analysed {
    Chart chart;
    Timeline timeline;
    Analysis analysis;
    // Of the n-th written chord.
    [[nodiscard]] const Reading& operator[](std::size_t n) const { return analysis.readings.at(n); }
    [[nodiscard]] std::string scale(std::size_t n) const { return to_string((*this)[n].scale.scale); }
    [[nodiscard]] std::string scale_id(std::size_t n) const {
        return std::string{(*this)[n].scale.scale.type->id};
    }
    [[nodiscard]] std::string why(std::size_t n) const { return in_words((*this)[n].scale.reason); }
    [[nodiscard]] std::string key(std::size_t n) const { return to_string((*this)[n].key); }
};

inline Analysed analysed(Chart chart, const AnalysisOptions& options = {}) {
    Diagnostics diagnostics;
    auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    Analysed out{std::move(chart), std::move(*timeline), {}};
    out.analysis = analyse(out.chart, out.timeline, options);
    return out;
}

// `text` is a .tune text: header lines and bars.
inline Chart tune(const std::string& text) {
    Diagnostics diagnostics;
    auto chart = read_tune(SourceText{"test.tune", text + "\n"}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) INFO(render(diagnostic));
    REQUIRE(chart);
    return std::move(*chart);
}

inline Analysed analysed(const std::string& text, const AnalysisOptions& options = {}) {
    return analysed(tune(text), options);
}

// Every chart that ships.
inline std::vector<Chart> sample_charts() {
    const std::filesystem::path folder = std::filesystem::path{SHEDBOOK_SOURCE_DIR} / "sample-charts";
    std::set<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator{folder}) files.insert(entry.path());
    REQUIRE(files.size() >= 16);
    std::vector<Chart> out;
    for (const std::filesystem::path& file : files) {
        Diagnostics diagnostics;
        auto chart = read_chart(file.string(), read_file(file.string()), {}, diagnostics);
        INFO(file.string());
        REQUIRE(chart);
        out.push_back(std::move(*chart));
    }
    return out;
}

}  // namespace shedbook
