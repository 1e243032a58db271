// How hard something is, in a word: what the points of a difficulty (docs/units.md) are called.
//
//     to_word(grade_of(20));                                   // "light"
#pragma once

#include "shedbook/base/enum_table.h"

namespace shedbook {

enum class Grade { Easy, Light, Medium, Hard };
template <>
inline constexpr Worded<Grade> kWords<Grade>[] = {
    {Grade::Easy, "easy"}, {Grade::Light, "light"}, {Grade::Medium, "medium"}, {Grade::Hard, "hard"}};

// Of 0 to 100 points: easy below 15, light below 22, medium to 30, hard above (common practice, no source).
[[nodiscard]] Grade grade_of(int points);

}  // namespace shedbook
