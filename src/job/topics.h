// Chords and scales as typed, for a sheet of drills.
#pragma once

#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"

namespace shedbook {

// "F lydian" is a scale, "Db7#11" a chord. What is neither is said in `diagnostics`; a scale of an unknown
// name is a UsageError.
[[nodiscard]] std::vector<SheetTopic> topics_of(const std::vector<std::string>& words,
                                                Diagnostics& diagnostics);

}  // namespace shedbook
