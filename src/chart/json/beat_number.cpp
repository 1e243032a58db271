#include "beat_number.h"

#include <cmath>
#include <cstdint>

namespace shedbook {
namespace {

constexpr double kMostBeats = 100'000.0;

bool is_near(double value, double whole, double within) {
    return std::abs(value - whole) < within;
}

// The simplest fraction within a billionth, by continued fractions.
Rational exact_fraction(double value) {
    std::int64_t num = 1;
    std::int64_t num_before = 0;
    std::int64_t den = 0;
    std::int64_t den_before = 1;
    double rest = value;
    constexpr int kEnough = 20;
    constexpr std::int64_t kLargest = 100'000;
    for (int i = 0; i < kEnough; ++i) {
        const double whole = std::floor(rest);
        const auto step = static_cast<std::int64_t>(whole);
        const std::int64_t next_num = step * num + num_before;
        const std::int64_t next_den = step * den + den_before;
        if (next_den > kLargest) break;
        num_before = num;
        den_before = den;
        num = next_num;
        den = next_den;
        if (is_near(value, static_cast<double>(num) / static_cast<double>(den), 1e-9) || rest == whole) break;
        rest = 1.0 / (rest - whole);
        if (rest > static_cast<double>(kLargest)) break;
    }
    return {num, den};
}

// A number with three decimals at most was typed or rounded: it may mean a third, a sixth, a twelfth ... of a
// beat.
std::optional<Rational> rounded_fraction(double value) {
    if (!is_near(value * 1000, std::nearbyint(value * 1000), 1e-6)) return std::nullopt;
    if (is_near(value * 16, std::nearbyint(value * 16), 1e-6)) return std::nullopt;
    for (const int parts : {3, 6, 12, 24}) {
        const double whole = std::nearbyint(value * parts);
        if (is_near(value, whole / parts, 0.004)) return Rational{static_cast<std::int64_t>(whole), parts};
    }
    return std::nullopt;
}

}  // namespace

std::optional<Position> place_of_beat(double beat, const Meter& meter) {
    if (!(beat >= 1.0) || beat > kMostBeats) return std::nullopt;
    const double past = beat - 1.0;
    const Rational units = rounded_fraction(past).value_or(exact_fraction(past));
    return Position{} + meter.unit_length() * units;
}

Data beat_of_place(Position at, const Meter& meter) {
    const Rational beat = (at - Position{}) / meter.unit_length() + Rational{1};
    Data out;
    if (beat.is_whole()) {
        out.value = beat.num();
    } else {
        out.value = static_cast<double>(beat.num()) / static_cast<double>(beat.den());
    }
    return out;
}

}  // namespace shedbook
