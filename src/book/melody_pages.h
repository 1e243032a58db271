// The melody of a tune on pages of its own.
#pragma once

#include <vector>

#include "drill_section.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"

namespace shedbook {

// As the chart has it, and then with gaps to be filled by ear, still without numbers; none where the chart
// has no melody. That it is somebody's is said.
[[nodiscard]] std::vector<Etude> melody_pages(const Tune& tune, const Ensemble& ensemble,
                                              const BookOptions& options, Diagnostics& diagnostics);

}  // namespace shedbook
