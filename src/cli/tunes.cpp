#include "tunes.h"

#include <algorithm>
#include <iostream>
#include <utility>

#include "arguments.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

[[nodiscard]] Chart at_concert_pitch(Chart chart) {
    if (chart.written_for.empty()) return chart;
    const Instrument& instrument = instrument_called(chart.written_for);
    // Chord symbols and keys have no octave: only the part of the transposition within one counts.
    Chart out = transposed(chart, {instrument.transposition.diatonic, instrument.transposition.chromatic});
    out.written_for.clear();
    return out;
}

PitchClass tonic_of(const Chart& chart, Palette palette, Diagnostics& diagnostics) {
    if (chart.key) return chart.key->tonic;
    const std::optional<Timeline> timeline = unfold(chart, diagnostics);
    return timeline ? analyse(chart, *timeline, {palette}).home.tonic : kC;
}

std::optional<Chart> read(const std::string& path, const TuneOptions& options, Diagnostics& diagnostics) {
    std::optional<Chart> chart = read_chart(path, read_file(path), {options.part}, diagnostics);
    if (!chart || diagnostics.has_errors()) return std::nullopt;
    Chart concert = at_concert_pitch(std::move(*chart));
    if (options.transpose.empty()) return concert;
    const PitchClass tonic = tonic_of(concert, options.palette, diagnostics);
    return transposed(concert, transposition_of(options.transpose, tonic));
}

std::optional<Tune> understand(Chart chart, const TuneOptions& options, Diagnostics& diagnostics) {
    std::optional<Timeline> timeline = unfold(chart, diagnostics);
    if (!timeline || diagnostics.has_errors()) return std::nullopt;
    const AnalysisOptions how{options.palette};
    Analysis analysis = analyse(chart, *timeline, how);
    return Tune{std::move(chart), std::move(*timeline), std::move(analysis), how};
}

std::optional<Tune> try_tune(const std::string& path, const TuneOptions& options) {
    Diagnostics diagnostics;
    std::optional<Chart> chart = read(path, options, diagnostics);
    std::optional<Tune> tune = chart ? understand(std::move(*chart), options, diagnostics) : std::nullopt;
    print(diagnostics);
    return tune;
}

}  // namespace

void print(const Diagnostics& diagnostics) {
    for (const Diagnostic& diagnostic : diagnostics.all()) std::cerr << render(diagnostic);
}

Chart load_chart(const std::string& path, const TuneOptions& options) {
    Diagnostics diagnostics;
    std::optional<Chart> chart = read(path, options, diagnostics);
    print(diagnostics);
    if (!chart) throw InputError{};
    return std::move(*chart);
}

Tune load_tune(const std::string& path, const TuneOptions& options) {
    std::optional<Tune> tune = try_tune(path, options);
    if (!tune) throw InputError{};
    return std::move(*tune);
}

std::vector<Tune> load_tunes(const std::vector<std::string>& paths, const TuneOptions& options) {
    std::vector<Tune> out;
    bool failed = false;
    for (const std::string& path : paths) {
        std::optional<Tune> tune = try_tune(path, options);
        failed = failed || !tune;
        if (tune) out.push_back(std::move(*tune));
    }
    if (failed) throw InputError{};
    return out;
}

std::optional<Meter> meter_for_drills(const std::vector<Tune>& tunes) {
    const Meter meter = tunes.front().chart.meter.value_or(Meter{});
    const bool alike = std::ranges::all_of(
        tunes, [&](const Tune& tune) { return tune.chart.meter.value_or(Meter{}) == meter; });
    if (!alike || meter.unit != 4 || meter.beats < 3 || meter == Meter{}) return std::nullopt;
    return meter;
}

Palette palette_of(const std::string& word) {
    return choice_of<Palette>("--scales", word);
}

}  // namespace shedbook
