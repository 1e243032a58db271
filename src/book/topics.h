// What the sections of a tune's chapter are about: its chords with their scales, or the scales of its keys.
#pragma once

#include <string>
#include <vector>

#include "drill_section.h"

namespace shedbook {

// In the order of the tune. What is left out is said.
[[nodiscard]] std::vector<SectionTopic> topics_of(const Tune& tune, const BookOptions& options,
                                                  Diagnostics& diagnostics);

}  // namespace shedbook
