#include "recording_sink.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {

std::vector<const WrittenMusic*> RecordingSink::music() const {
    std::vector<const WrittenMusic*> out;
    for (const Block& block : document.blocks) {
        const std::vector<WrittenMusic>* parts = music_of(block);
        if (parts != nullptr && !std::holds_alternative<Changes>(block)) out.push_back(&parts->front());
    }
    return out;
}

std::vector<const TopicHead*> RecordingSink::heads() const {
    std::vector<const TopicHead*> out;
    for (const SectionStart* section : all<SectionStart>()) {
        if (const auto* head = std::get_if<TopicHead>(&section->head)) out.push_back(head);
    }
    return out;
}

BookPart part(const char* instrument) {
    const Instrument& found = *find_instrument(instrument);
    return {&found, found.practical};
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

std::vector<Tune> sample_tunes() {
    namespace fs = std::filesystem;
    std::set<fs::path> files;
    for (const auto& entry : fs::directory_iterator{fs::path{SHEDBOOK_SOURCE_DIR} / "sample-charts"}) {
        if (entry.path().extension() == ".tune") files.insert(entry.path());
    }
    std::vector<Tune> out;
    for (const fs::path& file : files) out.push_back(tune_of(read_file(file.string())));
    return out;
}

}  // namespace shedbook
