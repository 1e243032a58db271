// Charts made by chance, the same for the same seed: everything that a chart can say, with signs that lead
// somewhere.
#pragma once

#include <cstdint>
#include <random>

#include "shedbook/chart/chart.h"

namespace shedbook {

// 0 to n - 1, the same on every library (the standard's distributions are not).
class Chance {
  public:
    explicit Chance(std::uint32_t seed) : engine_{seed} {}
    int below(int n) { return static_cast<int>(engine_() % static_cast<std::uint32_t>(n)); }
    bool one_in(int n) { return below(n) == 0; }

  private:
    std::mt19937 engine_;
};

struct RandomChartOptions {
    bool has_melody = false;
    bool has_comments = true;
    bool has_thirds = true;  // places and lengths that are no binary fractions
};

// A settled chart (see settle.h).
[[nodiscard]] Chart random_chart(std::uint32_t seed, const RandomChartOptions& options = {});

}  // namespace shedbook
