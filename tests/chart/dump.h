// A chart as readable lines, everything that it says and nothing about where it was written: what the tests
// compare.
#pragma once

#include <string>

#include "shedbook/chart/chart.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {

[[nodiscard]] std::string dump(const Chart& chart);
// "C@0+1 F@1+1/2": chords as played with place and length in whole notes.
[[nodiscard]] std::string dump(const Timeline& timeline);
// The chords of all bars: "Dm7 G7@3 | Cmaj7 | %".
[[nodiscard]] std::string chords_of(const Chart& chart);
// "1 2 3 1 2 4".
[[nodiscard]] std::string played(const Chart& chart);

}  // namespace shedbook
