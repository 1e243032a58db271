// Which times a chart may have, whatever it was read from: bars of some length, places and lengths that paper
// can show. Each reader asks this of its settled chart, bar after bar.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

struct TimeFault {
    Span where;
    std::string message;
    std::string hint;
};

class TimeLimits {
  public:
    // The first thing wrong with the length of a bar and the places of its chords; what is right is counted
    // in for the bars to come.
    [[nodiscard]] std::optional<TimeFault> take(const WrittenBar& bar);
    // The same of its melody, which is counted in as a whole or not at all.
    [[nodiscard]] std::optional<TimeFault> take_melody(const WrittenBar& bar);

  private:
    // False if the parts of a whole note that it is counted in are too fine together with those before.
    [[nodiscard]] bool counts_in(Rational time);

    std::int64_t parts_ = 1;  // of a whole note, in which all times so far are whole numbers
};

// All bars, the melody included, for readers whose bars know their place in the text.
void check_times(const Chart& chart, const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
