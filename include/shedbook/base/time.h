// Musical time: how long (Duration) and where (Position), both in whole notes and exact. They are two types
// because adding two places makes no sense, as with dates:
//
//     Position bar_two{Rational{1}};
//     bar_two + kEighth - bar_two == kEighth;    // true
//     bar_two + bar_two;                         // does not compile
#pragma once

#include "shedbook/base/rational.h"

namespace shedbook {

struct Duration {
    Rational whole_notes;

    friend constexpr Duration operator+(Duration a, Duration b) { return {a.whole_notes + b.whole_notes}; }
    friend constexpr Duration operator-(Duration a, Duration b) { return {a.whole_notes - b.whole_notes}; }
    friend constexpr Duration operator*(Duration a, Rational times) { return {a.whole_notes * times}; }
    friend constexpr Rational operator/(Duration a, Duration b) { return a.whole_notes / b.whole_notes; }
    constexpr Duration& operator+=(Duration other) { return *this = *this + other; }
    constexpr Duration& operator-=(Duration other) { return *this = *this - other; }
    friend constexpr auto operator<=>(const Duration&, const Duration&) = default;
};

// Counted from the beginning of whatever it is a place in (a bar, a drill, a tune), which the user of it
// says.
struct Position {
    Rational whole_notes;

    friend constexpr Position operator+(Position at, Duration by) {
        return {at.whole_notes + by.whole_notes};
    }
    friend constexpr Position operator-(Position at, Duration by) {
        return {at.whole_notes - by.whole_notes};
    }
    friend constexpr Duration operator-(Position to, Position from) {
        return {to.whole_notes - from.whole_notes};
    }
    constexpr Position& operator+=(Duration by) { return *this = *this + by; }
    friend constexpr auto operator<=>(const Position&, const Position&) = default;
};

inline constexpr Duration kWhole{Rational{1}};
inline constexpr Duration kHalf{Rational{1, 2}};
inline constexpr Duration kQuarter{Rational{1, 4}};
inline constexpr Duration kEighth{Rational{1, 8}};

}  // namespace shedbook
