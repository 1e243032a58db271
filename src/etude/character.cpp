#include "character.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

// Normal deviates of the 2, 5, 10, 20 ... 90, 95, 98 per cent points.
constexpr Spread kDeviates{-2.0537, -1.6449, -1.2816, -0.8416, -0.5244, -0.2533, 0,
                           0.2533,  0.5244,  0.8416,  1.2816,  1.6449,  2.0537};
constexpr double kFarthest = 2.05;  // deviates beyond are players of whom we know too little
constexpr double kWide = 1.1;

double between(const Spread& from, const Spread& to, double value) {
    if (value <= from.front()) return to.front();
    if (value >= from.back()) return to.back();
    std::size_t k = 1;
    while (from[k] < value) ++k;
    const double width = from[k] - from[k - 1];
    if (width <= 0) return to[k];
    return to[k - 1] + (to[k] - to[k - 1]) * (value - from[k - 1]) / width;
}

// The deviate with this share of a normal distribution below it.
double normal_deviate(double share) {
    double low = -5;
    double high = 5;
    for (int i = 0; i < 40; ++i) {
        const double middle = (low + high) / 2;
        (0.5 * std::erfc(-middle / std::sqrt(2.0)) < share ? low : high) = middle;
    }
    return (low + high) / 2;
}

// A normal deviate for a seed and a dimension: over sixteen seeds in a row one in each sixteenth.
double even_normal(std::uint64_t seed, std::size_t dimension) {
    constexpr int kRow = 16;
    Dice dice{seed / kRow * 1000003 + dimension};
    std::array<int, kRow> order{};
    for (int i = 0; i < kRow; ++i) order[static_cast<std::size_t>(i)] = i;
    for (int i = kRow - 1; i > 0; --i)
        std::swap(order[static_cast<std::size_t>(i)], order[static_cast<std::size_t>(dice.below(i + 1))]);
    Dice own{seed * 1000003 + dimension + 77};
    return normal_deviate((order[seed % kRow] + own.unit()) / kRow);
}

template <std::size_t N>
std::array<double, N> numbers(const Data& list) {
    std::array<double, N> out{};
    const Data::Array& values = *list.as_array();
    assert(values.size() == N);
    for (std::size_t i = 0; i < N; ++i) out[i] = values[i].as_number().value_or(0);
    return out;
}

FigureWindow read_window(const Data& entry) {
    FigureWindow out;
    out.bars = static_cast<int>(entry.find("bars")->as_int().value_or(32));
    const Data::Array& rows = *entry.find("spread")->as_array();
    assert(rows.size() == kFigures);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        out.spread[i] = numbers<kSpreadPoints>(rows[i]);
        // Between the 10 and the 90 per cent points lie 2.56 deviations.
        out.deviation[i] = std::max((out.spread[i][10] - out.spread[i][2]) / 2.563, 1e-3);
    }
    out.changes = numbers<kSpreadPoints>(*entry.find("changes"));
    out.intervals = numbers<kIntervalBins>(*entry.find("intervals"));
    double sum = 0;
    for (const double count : out.intervals) sum += count;
    for (double& share : out.intervals) share /= sum;
    return out;
}

FigureProfile read_profile() {
    Diagnostics diagnostics;
    const SourceText source{"melody_figures.toml", std::string{embedded_template("melody_figures.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());
    FigureProfile out;
    for (const Data& entry : *data->find("window")->as_array()) {
        out.windows.push_back(read_window(entry));
        const Data* factor = entry.find("factor");
        if (factor == nullptr) continue;
        for (const Data& row : *factor->as_array()) {
            std::vector<double>& values = out.factor.emplace_back();
            for (const Data& value : *row.as_array()) values.push_back(value.as_number().value_or(0) / 1000);
        }
    }
    assert(out.factor.size() == kFigures + 1);
    return out;
}

}  // namespace

const FigureProfile& figure_profile() {
    static const FigureProfile kProfile = read_profile();
    return kProfile;
}

const FigureWindow& window_for(int bars) {
    const std::vector<FigureWindow>& windows = figure_profile().windows;
    return *std::ranges::min_element(
        windows, {}, [&](const FigureWindow& window) { return std::abs(window.bars - bars); });
}

std::vector<Character> draw_characters(std::uint64_t seed, Dice& dice, double changes, int count) {
    const auto& factor = figure_profile().factor;
    std::vector<Character> out;
    const double tune = between(window_for(32).changes, kDeviates, changes);
    for (int k = 0; k < count; ++k) {
        std::array<double, kFigures + 1> free{};
        free[0] = tune;
        for (std::size_t i = 1; i < free.size(); ++i) free[i] = k == 0 ? even_normal(seed, i) : dice.normal();
        Character& character = out.emplace_back();
        for (std::size_t i = 0; i < kFigures; ++i) {
            double sum = 0;
            for (std::size_t j = 0; j <= i + 1; ++j) sum += factor[i + 1][j] * free[j];
            // What the search does not reach makes lines a little more alike than players: aimed a little
            // wide.
            character.deviates[i] = std::clamp(kWide * sum, -kFarthest, kFarthest);
        }
    }
    return out;
}

double demand(const Character& character) {
    // Density counts most: it is what a player feels first; then the range.
    constexpr std::array<Figure, 11> kHard{
        Figure::Density, Figure::Density, Figure::Density, Figure::Range,   Figure::Range,      Figure::Fast,
        Figure::Outside, Figure::Large,   Figure::MaxLeap, Figure::OffBeat, Figure::Syncopation};
    double sum = 0;
    for (const Figure figure : kHard) sum += character.deviates[static_cast<std::size_t>(figure)];
    return sum;
}

Figures aims_of(const Character& character, const FigureWindow& window) {
    Figures out;
    for (int i = 0; i < kFigures; ++i) {
        const auto k = static_cast<std::size_t>(i);
        out[static_cast<Figure>(i)] = between(kDeviates, window.spread[k], character.deviates[k]);
    }
    return out;
}

}  // namespace shedbook
