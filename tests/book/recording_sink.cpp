#include "recording_sink.h"

#include <catch2/catch.hpp>

#include "shedbook/chart/readers.h"

namespace shedbook {

std::vector<const WrittenMusic*> RecordingSink::music() const {
    std::vector<const WrittenMusic*> out;
    for (const Block& block : blocks) {
        if (const auto* music = std::get_if<WrittenMusic>(&block)) out.push_back(music);
    }
    return out;
}

std::vector<const ChordHead*> RecordingSink::chord_heads() const {
    std::vector<const ChordHead*> out;
    for (const Block& block : blocks) {
        if (const auto* found = std::get_if<ChordHead>(&block)) out.push_back(found);
    }
    return out;
}

Tune tune_of(const std::string& text) {
    Diagnostics diagnostics;
    const auto chart = read_tune(SourceText{"test.tune", text}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) UNSCOPED_INFO(render(diagnostic));
    REQUIRE(chart);
    const auto timeline = unfold(*chart, diagnostics);
    REQUIRE(timeline);
    return Tune{*chart, *timeline, analyse(*chart, *timeline)};
}

}  // namespace shedbook
