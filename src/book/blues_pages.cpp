#include "blues_pages.h"

#include <algorithm>
#include <array>

#include "shedbook/drill/drill_template.h"

namespace shedbook {
namespace {

constexpr LineOfUnit kGuideTones{"guide-tones"};
constexpr std::array<LineOfUnit, 2> kForm{{kGuideTones, {"composed"}}};
constexpr std::array<LineOfUnit, 2> kFormAtFirst{{kGuideTones, {"unbroken-scale"}}};
constexpr std::array<LineOfUnit, 2> kFormOfBlues{{kGuideTones, {"aab"}}};
constexpr std::string_view kBluesScale = "blues-scale";

}  // namespace

bool is_blues(const TuneUnits& units) {
    return std::ranges::find(units.units, UnitKind::BluesFrame, &PracticeUnit::kind) != units.units.end();
}

std::span<const LineOfUnit> lines_on_form(bool is_blues, bool is_first_level) {
    if (is_blues) return kFormOfBlues;
    return is_first_level ? kFormAtFirst : kForm;
}

void put_blues_first(std::vector<const PracticeUnit*>& units) {
    std::ranges::stable_sort(units, {},
                             [](const PracticeUnit* unit) { return unit->kind != UnitKind::BluesFrame; });
}

std::vector<const DrillTemplate*> with_blues_scale(std::vector<const DrillTemplate*> drills) {
    const DrillTemplate* scale = find_drill(kBluesScale);
    if (scale == nullptr || std::ranges::find(drills, scale) != drills.end()) return drills;
    drills.insert(drills.begin(), scale);
    return drills;
}

}  // namespace shedbook
