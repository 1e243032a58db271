// Charts as the tests type them.
#pragma once

#include <catch2/catch.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "shedbook/chart/readers.h"

namespace shedbook {

inline std::optional<Chart> try_read(const std::string& text, Diagnostics& diagnostics) {
    return read_tune(SourceText{"test.tune", text}, diagnostics);
}

// The text must be right.
inline Chart read(const std::string& text) {
    Diagnostics diagnostics;
    auto chart = try_read(text, diagnostics);
    std::string messages;
    for (const Diagnostic& diagnostic : diagnostics.all()) messages += render(diagnostic);
    INFO(text << "\n" << messages);
    REQUIRE(chart);
    return *std::move(chart);
}

inline std::string repeated(std::string_view text, std::size_t times) {
    std::string out;
    out.reserve(text.size() * times);
    for (std::size_t i = 0; i < times; ++i) out += text;
    return out;
}

}  // namespace shedbook
