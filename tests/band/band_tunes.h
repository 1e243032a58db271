// Tunes for a rhythm section to play.
#pragma once

#include <string>
#include <vector>

#include "random_changes.h"
#include "shedbook/band/rhythm_section.h"

namespace shedbook {

inline std::vector<BandStyle> styles() {
    std::vector<BandStyle> out;
    for (const auto& row : kWords<BandStyle>) out.push_back(row.value);
    return out;
}

// One chord a bar; "" goes on with the one before, "N.C." is silence.
inline Changes bars_of(const std::vector<std::string>& symbols, const Meter& meter = {}) {
    Changes out;
    Position at;
    for (const std::string& symbol : symbols) {
        out.bars.push_back({at, meter.bar_length(), meter});
        if (symbol.empty()) {
            out.chords.back().length += meter.bar_length();
        } else {
            out.chords.push_back({at, meter.bar_length(), parse_chord_symbol(symbol), 0});
        }
        at += meter.bar_length();
    }
    return out;
}

inline Changes tune(std::size_t choruses = 1, const Meter& meter = {}) {
    std::vector<std::string> bars;
    for (std::size_t i = 0; i < choruses; ++i) {
        for (const char* bar : {"Dm7", "G7", "Cmaj7", "A7", "Dm7", "G7", "Em7", "A7", "Fmaj7", "Bb7", "Cmaj7",
                                "A7", "Dm7", "G7", "C6", "G7"})
            bars.emplace_back(bar);
    }
    return bars_of(bars, meter);
}

inline RhythmSection band_on(const Changes& c, BandStyle style, unsigned seed = 1) {
    return {c.chords, c.bars, {}, {{Position{}, 2, BassPulse::Four}}, {}, style, seed, {}};
}

inline Meter meter_of(BandStyle style) {
    if (style == BandStyle::SixEight) return Meter{6, 8};
    return style == BandStyle::Waltz ? Meter{3, 4} : Meter{};
}

}  // namespace shedbook
