// Pieces that are crowded on their lines take more of them where their page has room.
#pragma once

#include <vector>

#include "page_plan.h"

namespace shedbook {

// The most crowded first, as long as there is room; rather so than staves of the player's own. Where staves
// stand close, or the engraver turns the pages, nothing changes. The sections have their pages.
void give_more_lines(std::vector<PlannedSection>& sections, const PageRoom& room);

// A piece that got them, as it is set.
[[nodiscard]] WrittenMusic with_more_lines(WrittenMusic music);

}  // namespace shedbook
