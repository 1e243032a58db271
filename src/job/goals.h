// How fast an item is to be played in the end.
#pragma once

#include <optional>

#include "shedbook/log/entry.h"

namespace shedbook {

// Of who asks for no level.
inline constexpr int kUsualLevelOfLog = 3;

// The tempo of the last box where it is printed for a player of this level: what such a player reaches, up to
// the tempo of the tune, or 100. Nothing for what is not known here, and for a drill that does not fit the
// range of the level.
[[nodiscard]] std::optional<int> usual_goal(const Item& item, std::optional<int> tempo_of_tune, int level);

}  // namespace shedbook
