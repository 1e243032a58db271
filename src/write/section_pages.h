// On which pages the sections of a tune stand: how many each takes, which share one, and where they turn.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "page_plan.h"

namespace shedbook {

// In systems: a unit has fewer lines over its first drill.
[[nodiscard]] double height_of_head(const PlannedSection& section);

// How many pages a section takes, and which of its pieces begin one. What fits only just is set tighter; what
// was over-full although it should have fitted, `fault` times, first tighter, then with more room.
void give_pages(PlannedSection& section, PageRoom room, bool is_book, int fault);

// Short sections of one sitting stand on one page, or on what another has left of its last, the room that is
// left at their end. In a book of units all kinds of them share pages.
void share_pages(std::vector<PlannedSection>& sections, const PageRoom& room, bool are_of_units,
                 const std::function<int(const PlannedSection&)>& fault_of);

}  // namespace shedbook
