#include "tunes.h"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"

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

// The key that was asked for takes the place of the chart's own, which is said.
void set_key(Chart& chart, const std::string& name, const std::string& file, Diagnostics& diagnostics) {
    const std::optional<Key> key = parse_key(name);
    if (!key)
        throw UsageError("--key takes a key as in \"G minor\", \"Bb\" or \"D dorian\", not '" + name + "'");
    if (chart.key && *chart.key != *key) {
        diagnostics.note_at(
            file, "its key, " + to_string(*chart.key) + ", is overruled by --key " + to_string(*key));
    }
    chart.key = key;
}

std::optional<Chart> read_concert(const std::string& file, const TuneRequest& request,
                                  Diagnostics& diagnostics) {
    std::optional<Chart> chart = read_chart(file, read_file(file), {request.part}, diagnostics);
    if (!chart || diagnostics.has_errors()) return std::nullopt;
    if (!request.key.empty()) set_key(*chart, request.key, file, diagnostics);
    return at_concert_pitch(*std::move(chart));
}

AnalysisOptions options_of(const TuneRequest& request) {
    return {.palette = palette_of(request.scales), .key_is_law = !request.key.empty()};
}

std::optional<Tune> understood(Chart chart, const AnalysisOptions& options, Diagnostics& diagnostics) {
    std::optional<Timeline> timeline = unfold(chart, diagnostics);
    if (!timeline || diagnostics.has_errors()) return std::nullopt;
    Analysis analysis = analyse(chart, *timeline, options);
    return Tune{std::move(chart), *std::move(timeline), std::move(analysis)};
}

// A chart that says its key is moved before it is understood, another one with all that was found in it.
std::optional<Tune> try_tune(const std::string& file, const TuneRequest& request, Diagnostics& diagnostics) {
    const AnalysisOptions options = options_of(request);
    std::optional<Chart> chart = read_concert(file, request, diagnostics);
    if (!chart) return std::nullopt;
    if (request.transpose.empty()) return understood(*std::move(chart), options, diagnostics);
    if (chart->key) {
        const Interval by = transposition_of(request.transpose, chart->key->tonic);
        return understood(transposed(*chart, by), options, diagnostics);
    }
    std::optional<Tune> tune = understood(*std::move(chart), options, diagnostics);
    if (!tune) return std::nullopt;
    const Interval by = transposition_of(request.transpose, tune->analysis.home.tonic);
    return Tune{transposed(tune->chart, by), transposed(tune->timeline, by), transposed(tune->analysis, by)};
}

}  // namespace

Chart load_chart(const std::string& file, const TuneRequest& request, Caller& caller) {
    Diagnostics diagnostics;
    std::optional<Chart> chart = read_concert(file, request, diagnostics);
    if (chart && !request.transpose.empty()) {
        std::optional<PitchClass> tonic;
        if (chart->key) tonic = chart->key->tonic;
        if (!tonic) {
            const std::optional<Timeline> timeline = unfold(*chart, diagnostics);
            tonic = timeline ? analyse(*chart, *timeline, options_of(request)).home.tonic : kC;
        }
        chart = transposed(*chart, transposition_of(request.transpose, *tonic));
    }
    caller.say(diagnostics);
    if (!chart || diagnostics.has_errors()) throw InputError{};
    return *std::move(chart);
}

TuneDraft read_draft(const std::string& name, const std::string& text, const TuneRequest& request) {
    TuneDraft out;
    UnfinishedTune read = read_unfinished_tune(SourceText{name, text}, out.diagnostics);
    out.is_pasted = read.is_pasted;
    if (!read.chart) return out;
    Chart& chart = *read.chart;
    chart.id = name;
    if (!request.key.empty()) set_key(chart, request.key, name, out.diagnostics);
    chart = at_concert_pitch(std::move(chart));
    std::optional<Timeline> timeline = unfold(chart, out.diagnostics);
    if (!timeline) {
        // Its chords are worth a look even where its repeats contradict each other: as they are written.
        for (Section& section : chart.sections) {
            for (Bar& bar : section.bars) bar.marks = {};
        }
        Diagnostics said_before;
        timeline = unfold(chart, said_before);
    }
    if (!timeline) return out;
    Analysis analysis = analyse(chart, *timeline, options_of(request));
    out.tune = Tune{std::move(chart), *std::move(timeline), std::move(analysis)};
    return out;
}

Tune tune_of(Chart chart) {
    Diagnostics diagnostics;  // it is ours, and sound
    return understood(std::move(chart), {}, diagnostics).value();
}

Tune load_tune(const std::string& file, const TuneRequest& request, Caller& caller) {
    return std::move(load_tunes({file}, request, caller).front());
}

std::vector<Tune> load_tunes(const std::vector<std::string>& files, const TuneRequest& request,
                             Caller& caller) {
    std::vector<Tune> out;
    for (const std::string& file : files) {
        Diagnostics diagnostics;
        std::optional<Tune> tune = try_tune(file, request, diagnostics);
        caller.say(diagnostics);
        if (tune) out.push_back(*std::move(tune));
    }
    if (out.size() < files.size()) throw InputError{};
    return out;
}

bool is_tune_file(const std::string& word) {
    namespace fs = std::filesystem;
    if (word == "-") return true;
    std::error_code error;
    const fs::path path{word};
    if (fs::is_regular_file(path, error)) return true;
    const std::string ending = lower_case(path.extension().string());
    return std::ranges::find(chart_readers(), ending, &ChartReader::ending) != chart_readers().end();
}

std::optional<Meter> meter_for_drills(const std::vector<Tune>& tunes) {
    const Meter meter = tunes.front().chart.meter.value_or(Meter{});
    const bool alike = std::ranges::all_of(
        tunes, [&](const Tune& tune) { return tune.chart.meter.value_or(Meter{}) == meter; });
    if (!alike || meter.unit != 4 || meter.beats < 3 || meter == Meter{}) return std::nullopt;
    return meter;
}

}  // namespace shedbook
