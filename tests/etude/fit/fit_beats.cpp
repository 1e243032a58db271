// Counts how beats are filled within phrases of real solos: the shares of src/etude/rhythm.cpp.
//
//     gzip -dc ../shared/reference/solos/notes.tsv.gz | fit_beats
//
// A stretch from one note on a beat to the next counts where its notes fill whole beats, so that no rest
// hides in it; onsets are put on the written grid: two in a beat are eighths, however they are swung.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <map>
#include <string>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct Note {
    std::string solo;
    std::string chorus;
    double beats = 0;
    bool on_beat = false;
};

// Onsets as parts of a beat to ticks of a sixtieth.
std::vector<int> on_grid(const std::vector<double>& onsets) {
    std::vector<int> out;
    if (onsets.size() == 1) return {onsets[0] < 0.3 ? 0 : 30};
    if (onsets.size() == 2 && onsets[0] < 0.3 && onsets[1] > 0.45) return {0, 30};
    const bool thirds = onsets.size() == 3 && std::abs(onsets[0]) < 0.09 &&
                        std::abs(onsets[1] - 1 / 3.0) < 0.09 && std::abs(onsets[2] - 2 / 3.0) < 0.09;
    if (thirds) return {0, 20, 40};
    for (const double onset : onsets) {
        if (onsets.size() == 2) {
            constexpr std::array<int, 6> kPlaces{0, 15, 20, 30, 40, 45};
            out.push_back(*std::ranges::min_element(kPlaces, {},
                                                    [&](int place) { return std::abs(60 * onset - place); }));
        } else {
            out.push_back(std::min(45, static_cast<int>(4 * onset + 0.5) * 15));
        }
    }
    return out;
}

std::vector<Note> read_notes() {
    std::vector<Note> out;
    for (std::string line; std::getline(std::cin, line);) {
        // chart, solo, chorus, inst, pc, dur, len, onset, onbeat, strong
        const std::vector<std::string_view> cells = split(line, '\t');
        if (cells.size() < 9 || cells[7] != "1") continue;
        out.push_back({std::string{cells[1]}, std::string{cells[2]},
                       std::atof(std::string{cells[6]}.c_str()) / 100, cells[8] == "1"});
    }
    return out;
}

int run() {
    const std::vector<Note> notes = read_notes();
    std::map<std::vector<int>, int> counts;
    int all = 0;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        if (!notes[i].on_beat) continue;
        double length = notes[i].beats;
        std::size_t e = i + 1;
        while (e < notes.size() && !notes[e].on_beat) length += notes[e++].beats;
        if (e == notes.size() || notes[e].solo != notes[i].solo || notes[e].chorus != notes[i].chorus)
            continue;
        const double beats = std::round(length);
        if (beats < 1 || beats > 4 || std::abs(length - beats) > 0.12 * std::sqrt(beats)) continue;
        std::vector<std::vector<double>> onsets(static_cast<std::size_t>(beats));
        double at = 0;
        for (std::size_t k = i; k < e; ++k) {
            const auto beat = std::min(onsets.size() - 1, static_cast<std::size_t>(at));
            onsets[beat].push_back(at - std::floor(at));
            at += notes[k].beats;
        }
        for (const std::vector<double>& beat : onsets) {
            if (beat.size() > 4) continue;
            ++counts[beat.empty() ? std::vector<int>{} : on_grid(beat)];
            ++all;
        }
    }
    std::vector<std::pair<int, std::vector<int>>> order;
    for (const auto& [onsets, count] : counts) order.emplace_back(count, onsets);
    std::ranges::sort(order, std::ranges::greater{});
    for (const auto& [count, onsets] : order) {
        if (count * 500 < all) break;
        std::printf("%.3f ", static_cast<double>(count) / all);
        for (const int onset : onsets) std::printf(" %d", onset);
        std::printf("\n");
    }
    return all > 0 ? 0 : 1;
}

}  // namespace
}  // namespace shedbook

int main() {
    return shedbook::run();
}
