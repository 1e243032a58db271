// Chance that gives the same on every machine.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>

namespace shedbook {

class Dice {
  public:
    explicit Dice(std::uint64_t seed) : engine_{seed} {}

    // 0 to n - 1.
    [[nodiscard]] int below(int n) { return static_cast<int>(engine_() % static_cast<std::uint64_t>(n)); }
    // 0 up to 1, 1 not included.
    [[nodiscard]] double unit() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; }
    [[nodiscard]] bool chance(double probability) { return unit() < probability; }
    // Normal with mean 0 and deviation 1 (Box and Muller 1958).
    [[nodiscard]] double normal() {
        const double radius = std::sqrt(-2 * std::log(1 - unit()));
        return radius * std::cos(6.283185307179586 * unit());
    }
    // For a search of its own that others do not disturb.
    [[nodiscard]] std::uint64_t seed() { return engine_(); }

  private:
    std::mt19937_64 engine_;
};

}  // namespace shedbook
