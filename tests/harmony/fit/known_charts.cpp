#include "known_charts.h"

#include <algorithm>
#include <array>
#include <iostream>
#include <map>
#include <set>

#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

struct Loaded {
    std::string id;
    Chart chart;
    Timeline timeline;
    ChordViews views;
};

std::vector<Loaded> load_all(const fs::path& folder) {
    std::set<fs::path> files;
    for (const fs::directory_entry& entry : fs::directory_iterator{folder}) {
        if (entry.path().extension() == ".json") files.insert(entry.path());
    }
    std::vector<Loaded> out;
    for (const fs::path& file : files) {
        Diagnostics diagnostics;
        auto chart = read_chart(file.string(), read_file(file.string()), {}, diagnostics);
        auto timeline = chart ? unfold(*chart, diagnostics) : std::nullopt;
        if (!timeline) {
            for (const Diagnostic& diagnostic : diagnostics.all()) std::cerr << render(diagnostic);
            continue;
        }
        ChordViews views = view_of(*chart, *timeline);
        out.push_back({file.stem().string(), std::move(*chart), std::move(*timeline), std::move(views)});
    }
    return out;
}

std::string song_of(const std::string& id) {
    const bool has_version = !id.empty() && id.back() >= 'a' && id.back() <= 'z';
    return has_version ? id.substr(0, id.size() - 1) : id;
}

// Annotated tonics by chart and inst.
std::map<std::string, std::map<int, int>> read_tonics(const fs::path& file) {
    std::map<std::string, std::map<int, int>> out;
    const std::string text = read_file(file.string());
    for (const std::string_view line : split(text, '\n')) {
        const auto cells = split(line, '\t');
        if (cells.size() < 7 || cells[0] == "chart") continue;
        out[std::string{cells[0]}][std::stoi(std::string{cells[1]})] = std::stoi(std::string{cells[6]});
    }
    return out;
}

}  // namespace

std::vector<KnownChart> read_known_charts(const fs::path& reference) {
    std::vector<KnownChart> out;
    for (Loaded& loaded : load_all(reference / "solos" / "charts")) {
        if (!loaded.chart.key || loaded.views.chords.empty()) continue;
        const Key key = *loaded.chart.key;
        const Tonality home{key.tonic.semitone(), is_minor(key.mode) ? Ground::Minor : Ground::Major};
        out.push_back({song_of(loaded.id), std::move(loaded.views.chords), home, {}, home.tonic});
    }
    const auto tonics = read_tonics(reference / "functions" / "reference.tsv");
    for (Loaded& loaded : load_all(reference / "functions" / "charts")) {
        const auto found = tonics.find(loaded.id);
        if (found == tonics.end() || loaded.views.chords.empty()) continue;
        KnownChart chart{song_of(loaded.id), {}, std::nullopt, {}, 0};
        std::array<double, 12> time{};
        for (std::size_t i = 0; i < loaded.views.chords.size(); ++i) {
            const int inst = loaded.timeline.chords[static_cast<std::size_t>(loaded.views.span_of[i])].inst;
            const int tonic = found->second.at(inst);
            chart.tonics.push_back(tonic);
            time[static_cast<std::size_t>(tonic)] += loaded.views.chords[i].beats;
        }
        chart.home_tonic = static_cast<int>(std::ranges::max_element(time) - time.begin());
        chart.chords = std::move(loaded.views.chords);
        out.push_back(std::move(chart));
    }
    return out;
}

}  // namespace shedbook
