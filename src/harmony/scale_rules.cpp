#include "scale_rules.h"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "scale_rows_dominant.h"
#include "scale_rows_major.h"
#include "scale_rows_minor.h"
#include "scale_uses.h"

namespace shedbook {
namespace {

constexpr std::span<const ScaleRow> kAllRows[]{kDominantRows, kMinorRows, kMajorRows};

bool in(unsigned set, int value) {
    return set == 0 || (set >> static_cast<unsigned>(value) & 1U) != 0;
}

std::vector<ScaleUse>& uses() {
    static std::vector<ScaleUse> out{std::begin(kScaleUses), std::end(kScaleUses)};
    return out;
}

const ScaleUse* use_of(std::string_view scale_id) {
    const auto found = std::ranges::find(uses(), scale_id, &ScaleUse::scale);
    return found == uses().end() ? nullptr : &*found;
}

// Scales over chords of one sound, by place.
std::vector<std::string_view> uses_over(int sound) {
    std::vector<std::pair<int, std::string_view>> placed;
    for (const ScaleUse& use : uses()) {
        for (const ScaleUse::Over& over : use.over) {
            if ((over.sounds >> static_cast<unsigned>(sound) & 1U) != 0)
                placed.emplace_back(over.place, use.scale);
        }
    }
    std::ranges::stable_sort(placed, {}, [](const auto& use) { return use.first; });
    std::vector<std::string_view> out;
    out.reserve(placed.size());
    for (const auto& [place, scale] : placed) out.push_back(scale);
    return out;
}

bool names_goal(const ScaleRow& row) {
    return row.why.find("{goal}") != std::string_view::npos;
}

}  // namespace

std::span<const std::span<const ScaleRow>> all_scale_rows() {
    return kAllRows;
}

const ScaleRow& row_for(const Role& role, const ChordView& chord) {
    const auto matches = [&](const ScaleRow& row) {
        return in(row.sounds, static_cast<int>(chord.sound)) && (chord.tones & row.needs) == row.needs &&
               (chord.tones & row.lacks) == 0 && in(row.parts, static_cast<int>(role.part)) &&
               in(row.grounds, static_cast<int>(role.key.ground)) && in(row.degrees, role.degree) &&
               in(row.goals, static_cast<int>(role.goal)) && in(row.goal_degrees, role.goal_degree) &&
               (row.marks & ~role.marks) == 0 && (role.target >= 0 || !names_goal(row));
    };
    for (const std::span<const ScaleRow> rows : kAllRows) {
        const auto found = std::ranges::find_if(rows, matches);
        if (found != rows.end()) return *found;
    }
    return kMajorRows[std::size(kMajorRows) - 1];
}

void add_scale_use(const ScaleUse& use) {
    const auto known = std::ranges::find(uses(), use.scale, &ScaleUse::scale);
    if (known != uses().end()) {
        *known = use;
    } else {
        uses().push_back(use);
    }
}

std::string_view what_it_brings(std::string_view scale_id) {
    const ScaleUse* use = use_of(scale_id);
    return use != nullptr ? use->brings : "holds {all}";
}

std::span<const std::string_view> scales_by_sound(Sound sound) {
    static const std::array<std::vector<std::string_view>, kSounds> kBySound = [] {
        std::array<std::vector<std::string_view>, kSounds> out;
        for (int i = 0; i < kSounds; ++i) out[static_cast<std::size_t>(i)] = uses_over(i);
        return out;
    }();
    return kBySound[static_cast<std::size_t>(sound)];
}

bool may_be_melodys_choice(std::string_view scale_id) {
    const ScaleUse* use = use_of(scale_id);
    return use != nullptr && use->by_melody;
}

}  // namespace shedbook
