// What must hold of any bytes: a reader takes them or says why not, and what it takes can be written and read
// again.
#pragma once

#include <cstdint>
#include <string>

#include "shedbook/chart/readers.h"
#include "shedbook/chart/timeline.h"

namespace shedbook {

// Ends the program where a promise is broken, so that the fuzzer keeps the input.
inline void promise(bool holds) {
    if (!holds) __builtin_trap();
}

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
    return {data, data + size};
}

inline void check_chart(const std::optional<Chart>& chart, const Diagnostics& diagnostics) {
    promise(chart.has_value() != diagnostics.has_errors());
    if (!chart) return;
    Diagnostics ignored;
    promise(order_of_play(*chart, ignored).has_value());
    const std::string text = write_tune(*chart);
    Diagnostics again_diagnostics;
    const auto again = read_tune(SourceText{"again", text}, again_diagnostics);
    promise(again.has_value());
    promise(write_tune(*again) == text);
}

}  // namespace shedbook
