// What the jobs share about tunes; loading them is in jobs.h.
#pragma once

#include <optional>
#include <vector>

#include "shedbook/book/book.h"

namespace shedbook {

// In what meter drills on these tunes are where nothing was said: those of a waltz are waltzes; tunes in
// compound meters keep drills in 4/4, whose cells would land off the beat there. Nothing: as the drill says.
[[nodiscard]] std::optional<Meter> meter_for_drills(const std::vector<Tune>& tunes);

// A chart of ours, which has no fault, understood.
[[nodiscard]] Tune tune_of(Chart chart);

}  // namespace shedbook
