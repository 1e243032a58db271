// Reads a chart from its own text and says what the chords mean.
#include <iostream>

#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"
#include "shedbook/harmony/analysis.h"

int main() {
    shedbook::Diagnostics said;
    const auto chart = shedbook::read_chart("a.tune", "Key: F\n| Gm7 | C7 | Fmaj7 | % |\n", {}, said);
    if (!chart) return 1;
    const auto timeline = shedbook::unfold(*chart, said);
    if (!timeline) return 1;
    const shedbook::Analysis analysis = shedbook::analyse(*chart, *timeline, {});
    for (const shedbook::Reading& reading : analysis.readings)
        std::cout << to_string(reading.symbol) << ": " << to_string(reading.scale.scale) << "\n";
    return 0;
}
