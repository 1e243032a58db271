#include "shedbook/base/grade.h"

#include <array>
#include <utility>

namespace shedbook {

Grade grade_of(int points) {
    static constexpr std::array<std::pair<int, Grade>, 3> kBelow{
        {{15, Grade::Easy}, {22, Grade::Light}, {31, Grade::Medium}}};
    for (const auto& [below, grade] : kBelow) {
        if (points < below) return grade;
    }
    return Grade::Hard;
}

}  // namespace shedbook
