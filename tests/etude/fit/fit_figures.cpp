// Makes templates/melody_figures.toml: how the figures of real improvised lines are spread, and how they go
// together. Aggregates only.
//
//     fit_figures ../shared/reference/solos/melody-profile.json > templates/melody_figures.toml
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <string>
#include <vector>

#include "shedbook/io/data.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

constexpr std::array<double, 13> kPercent{2, 5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 98};
constexpr double kMissing = -1e9;
constexpr double kShrink = 0.03;  // towards no correlation: keeps the factor sound

using Column = std::vector<double>;

double quantile(Column sorted, double percent) {
    const double place = percent / 100 * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return sorted[below] + (sorted[above] - sorted[below]) * (place - static_cast<double>(below));
}

// The normal deviate with this share below it (Acklam's approximation is not needed: bisection will do).
double normal_deviate(double share) {
    double low = -6;
    double high = 6;
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2;
        (0.5 * std::erfc(-middle / std::sqrt(2.0)) < share ? low : high) = middle;
    }
    return (low + high) / 2;
}

// Ranks as normal deviates; equal values share their place, missing ones are in the middle.
Column deviates(const Column& column) {
    Column sorted;
    for (const double value : column) {
        if (value > kMissing) sorted.push_back(value);
    }
    std::ranges::sort(sorted);
    Column out;
    for (const double value : column) {
        if (value <= kMissing) {
            out.push_back(0);
            continue;
        }
        const auto [first, last] = std::ranges::equal_range(sorted, value);
        const double place =
            (static_cast<double>(first - sorted.begin()) + static_cast<double>(last - sorted.begin())) / 2;
        out.push_back(normal_deviate(place / static_cast<double>(sorted.size())));
    }
    return out;
}

std::vector<Column> factor_of(const std::vector<Column>& columns) {
    const std::size_t n = columns.size();
    std::vector<Column> z;
    for (const Column& column : columns) z.push_back(deviates(column));
    std::vector<Column> correlation(n, Column(n, 0));
    const auto dot = [&](std::size_t i, std::size_t j) {
        double sum = 0;
        for (std::size_t k = 0; k < z[i].size(); ++k) sum += z[i][k] * z[j][k];
        return sum;
    };
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) {
            const double scale = std::sqrt(std::max(1e-9, dot(i, i) * dot(j, j)));
            correlation[i][j] = i == j ? 1 : (1 - kShrink) * dot(i, j) / scale;
        }
    }
    // Cholesky's factor: a row of it times independent normal deviates is one figure's deviate.
    std::vector<Column> factor(n, Column(n, 0));
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = correlation[i][j];
            for (std::size_t k = 0; k < j; ++k) sum -= factor[i][k] * factor[j][k];
            factor[i][j] = i == j ? std::sqrt(std::max(1e-9, sum)) : sum / factor[j][j];
        }
    }
    return factor;
}

double number(const Data& value) {
    return value.is_null() ? kMissing : value.as_number().value_or(kMissing);
}

void print_window(const std::string& bars, const Data& window, const std::vector<std::string>& names) {
    std::vector<Column> columns(names.size());
    for (const Data& row : *window.find("vectors")->as_array()) {
        const Data::Array& values = *row.as_array();
        for (std::size_t i = 0; i < names.size(); ++i) columns[i].push_back(number(values[i + 1]));
    }
    std::printf("\n[[window]]\nbars = %s\nspread = [\n", bars.c_str());
    for (std::size_t i = 0; i < names.size(); ++i) {
        Column sorted;
        for (const double value : columns[i]) {
            if (value > kMissing) sorted.push_back(value);
        }
        std::ranges::sort(sorted);
        std::printf("  [");
        for (std::size_t k = 0; k < kPercent.size(); ++k)
            std::printf("%s%.4g", k == 0 ? "" : ", ", quantile(sorted, kPercent[k]));
        std::printf("],  # %s\n", names[i].c_str());
    }
    Column changes;
    for (const Data& value : *window.find("changes")->as_array()) changes.push_back(number(value));
    Column sorted = changes;
    std::ranges::sort(sorted);
    std::printf("]\nchanges = [");
    for (std::size_t k = 0; k < kPercent.size(); ++k)
        std::printf("%s%.4g", k == 0 ? "" : ", ", quantile(sorted, kPercent[k]));
    std::printf("]\nintervals = [");
    bool first = true;
    for (const Data& count : *window.find("intervals")->as_array()) {
        std::printf("%s%.0f", first ? "" : ", ", number(count));
        first = false;
    }
    std::printf("]\n");
    if (bars != "32") return;
    columns.insert(columns.begin(), changes);
    std::printf(
        "# How they go together: first the changes in a bar, then the figures in their order.\nfactor = [\n");
    const std::vector<Column> factor = factor_of(columns);
    for (std::size_t i = 0; i < factor.size(); ++i) {
        std::printf("  [");
        for (std::size_t j = 0; j <= i; ++j) std::printf("%s%.0f", j == 0 ? "" : ", ", 1000 * factor[i][j]);
        std::printf("],\n");
    }
    std::printf("]\n");
}

int run(const std::string& path) {
    Diagnostics diagnostics;
    const SourceText source{path, read_file(path)};
    const std::optional<Data> profile = read_json(source, diagnostics);
    if (!profile) {
        std::cerr << "cannot read " << path << "\n";
        return 1;
    }
    std::vector<std::string> names;
    for (const Data& name : *profile->find("figures")->as_array()) names.push_back(*name.as_string());
    std::printf(
        "# How improvised lines measure, in windows of so many bars: what composed etudes are held beside.\n"
        "# Made by tests/etude/fit/fit_figures.cpp; aggregate figures, no notes.\n"
        "# Source: 125 solos of the Weimar Jazz Database as packaged in jazzodata (MIT), by the Jazzomat "
        "project:\n"
        "# M. Pfleiderer, K. Frieler, J. Abesser, W.-G. Zaddach, B. Burkhart (eds.), Inside the Jazzomat, "
        "Schott 2017.\n"
        "# spread: the 2, 5, 10, 20 ... 90, 95, 98 per cent points of each figure.\n\n"
        "figures = [");
    for (std::size_t i = 0; i < names.size(); ++i)
        std::printf("%s\"%s\"", i == 0 ? "" : ", ", names[i].c_str());
    std::printf("]\n");
    for (const auto& [bars, window] : *profile->find("windows")->as_object())
        print_window(bars, window, names);
    return 0;
}

}  // namespace
}  // namespace shedbook

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: fit_figures melody-profile.json\n";
        return 2;
    }
    return shedbook::run(argv[1]);
}
