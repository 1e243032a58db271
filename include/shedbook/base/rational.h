// Exact fractions. Everything that has to do with time in this program is one of these, so that a triplet is
// a third and a bar is full or it is not.
//
//     Rational third{1, 3};
//     third + third + third == Rational{1};     // true
//     to_string(Rational{6, 4});                // "3/2"
#pragma once

#include <compare>
#include <cstdint>
#include <stdexcept>
#include <string>

namespace shedbook {

// Whole-number division towards minus infinity and what it leaves, 0 to b - 1. `b` is positive.
constexpr int floor_div(int a, int b) {
    return a >= 0 ? a / b : -((-a + b - 1) / b);
}
constexpr int modulo(int a, int b) {
    return a - b * floor_div(a, b);
}

// A fraction in lowest terms with a positive denominator. Arithmetic that would not fit 64 bits, or a
// denominator of zero, throws std::overflow_error: a sum that is silently wrong is worse than none.
class Rational {
  public:
    constexpr Rational() = default;
    constexpr Rational(std::int64_t whole) : num_{whole} {}  // NOLINT: a whole number is a fraction
    constexpr Rational(std::int64_t num, std::int64_t den) : Rational{reduced(num, den)} {}

    [[nodiscard]] constexpr std::int64_t num() const { return num_; }
    [[nodiscard]] constexpr std::int64_t den() const { return den_; }
    [[nodiscard]] constexpr bool is_whole() const { return den_ == 1; }
    // The largest whole number that is not above the value.
    [[nodiscard]] constexpr std::int64_t floor() const { return num_ / den_ - (num_ % den_ < 0 ? 1 : 0); }

    friend constexpr Rational operator-(Rational a) { return reduced(-wide(a.num_), a.den_); }
    friend constexpr Rational operator+(Rational a, Rational b) {
        return reduced(wide(a.num_) * b.den_ + wide(b.num_) * a.den_, wide(a.den_) * b.den_);
    }
    friend constexpr Rational operator-(Rational a, Rational b) { return a + -b; }
    friend constexpr Rational operator*(Rational a, Rational b) {
        return reduced(wide(a.num_) * b.num_, wide(a.den_) * b.den_);
    }
    friend constexpr Rational operator/(Rational a, Rational b) {
        return reduced(wide(a.num_) * b.den_, wide(a.den_) * b.num_);
    }
    constexpr Rational& operator+=(Rational other) { return *this = *this + other; }
    constexpr Rational& operator-=(Rational other) { return *this = *this - other; }

    friend constexpr bool operator==(Rational, Rational) = default;
    friend constexpr std::strong_ordering operator<=>(Rational a, Rational b) {
        return wide(a.num_) * b.den_ <=> wide(b.num_) * a.den_;
    }

  private:
    __extension__ using wide = __int128;

    static constexpr Rational reduced(wide num, wide den) {
        if (den == 0) throw std::overflow_error("fraction with a denominator of zero");
        if (den < 0) {
            num = -num;
            den = -den;
        }
        wide a = num < 0 ? -num : num;
        wide b = den;
        while (b != 0) {
            const wide rest = a % b;
            a = b;
            b = rest;
        }
        num /= a;
        den /= a;
        constexpr wide kMost = INT64_MAX;
        if (num > kMost || num < -kMost || den > kMost) throw std::overflow_error("fraction out of range");
        Rational out;
        out.num_ = static_cast<std::int64_t>(num);
        out.den_ = static_cast<std::int64_t>(den);
        return out;
    }

    std::int64_t num_ = 0;
    std::int64_t den_ = 1;
};

// "3", "3/2", "-1/4".
[[nodiscard]] std::string to_string(Rational value);

}  // namespace shedbook
