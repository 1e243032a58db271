// The pages of the table that says which scale fits on which chord, where it has pages of its own.
#pragma once

#include <cstddef>

#include "page_plan.h"

namespace shedbook {

// Below each row where the table stands below the changes, in staff spaces: as little as can be read, and
// less where it would run over.
inline constexpr double kBelowChanges = 2.4;
inline constexpr double kCloseBelowChanges = 1.4;

// On this many pages at least, with whole reasons where that needs no page more; the room that is left goes
// between the rows, up to a limit.
[[nodiscard]] TablePages pages_of_table(const ScaleTable& table, const PageRoom& room, int least_pages = 1);
// In staff spaces, where it stands on the page of the changes.
[[nodiscard]] double height_below_changes(const ScaleTable& table, Reasons reasons);

}  // namespace shedbook
