#include "grounds.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <set>

#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

#if defined(__SANITIZE_ADDRESS__)
constexpr std::size_t kEvery = 40;
#else
constexpr std::size_t kEvery = 1;
#endif

PitchRange range(const char* low, const char* high) {
    return {*parse_pitch(low), *parse_pitch(high)};
}

EtudeGround ground_of_chart(const Chart& chart, const GroundOptions& options) {
    Diagnostics diagnostics;
    const auto timeline = unfold(chart, diagnostics);
    REQUIRE(timeline);
    return ground_of(*timeline, analyse(chart, *timeline), options);
}

}  // namespace

EtudeGround ground_of_bars(const std::string& text, const GroundOptions& options) {
    Diagnostics diagnostics;
    const auto chart = read_tune(SourceText{"test.tune", text}, diagnostics);
    for (const Diagnostic& diagnostic : diagnostics.all()) UNSCOPED_INFO(render(diagnostic));
    REQUIRE(chart);
    return ground_of_chart(*chart, options);
}

const std::vector<NamedGround>& test_grounds() {
    static const std::vector<NamedGround> kGrounds = [] {
        std::set<fs::path> files;
        for (const fs::path& folder : {fs::path{SHEDBOOK_SOURCE_DIR} / "sample-charts",
                                       fs::path{SHEDBOOK_SHARED_DIR} / "reference" / "solos" / "charts"}) {
            if (!fs::exists(folder)) {
                WARN("skipped: " << folder.string() << " is not there");
                continue;
            }
            for (const auto& entry : fs::directory_iterator{folder}) {
                if (entry.path().extension() != ".txt") files.insert(entry.path());
            }
        }
        std::vector<NamedGround> out;
        std::size_t k = 0;
        for (const fs::path& file : files) {
            if (k++ % kEvery != 0) continue;
            Diagnostics diagnostics;
            const auto chart = read_chart(file.string(), read_file(file.string()), {}, diagnostics);
            REQUIRE(chart);
            out.push_back({file.filename().string(), ground_of_chart(*chart, {})});
        }
        return out;
    }();
    return kGrounds;
}

// Sounding ranges after MuseScore's instruments.xml (2022), as templates/instruments.toml has them.
const std::array<NamedRange, 8>& test_ranges() {
    static const std::array<NamedRange, 8> kRanges{{
        {"alto saxophone", range("Db3", "A5")},
        {"tenor saxophone", range("Ab2", "E5")},
        {"trumpet", range("E3", "Bb5")},
        {"trombone", range("E2", "Bb4")},
        {"flute", range("C4", "C7")},
        {"clarinet", range("D3", "F6")},
        {"double bass", range("E1", "G3")},
        {"an octave of recorder", range("C5", "C6")},
    }};
    return kRanges;
}

const ScaleSpan& sounding_at(const EtudeGround& ground, Position at) {
    REQUIRE(!ground.spans.empty());
    REQUIRE(ground.spans.front().at <= at);
    return span_at(ground, at);
}

bool has_note(const std::vector<PitchClass>& notes, Pitch pitch) {
    return std::ranges::any_of(notes, [&](PitchClass note) { return note.semitone() == pitch.midi() % 12; });
}

void check_line(const EtudeGround& ground, const ConcertLine& line, PitchRange range) {
    // One check a line keeps the tests quick; the counts say what is wrong.
    int out_of_range = 0;
    int overlaps = 0;
    int without_chord = 0;
    int strange_names = 0;
    Position end;
    for (const LineNote& note : line.notes) {
        out_of_range += range.holds(note.pitch) ? 0 : 1;
        overlaps += note.at < end || note.length <= Duration{} ? 1 : 0;
        without_chord += sounding_at(ground, note.at).notes.empty() ? 1 : 0;
        strange_names += std::abs(note.pitch.alter()) > 2 ? 1 : 0;
        end = note.at + note.length;
        for (const OpenStretch& open : line.open)
            overlaps += note.at < open.at + open.length && open.at < end ? 1 : 0;
    }
    CHECK(out_of_range == 0);
    CHECK(overlaps == 0);
    CHECK(without_chord == 0);
    CHECK(strange_names == 0);
    CHECK(line.length == ground.length);
    CHECK(end <= Position{} + ground.length);
    for (const Position breath : line.breaths) CHECK(breath <= Position{} + ground.length);
}

void for_each_case(Coverage coverage,
                   const std::function<void(const EtudeGround&, PitchRange, std::uint64_t seed)>& check) {
    constexpr std::uint64_t kSeeds = 3;
    const bool all = coverage == Coverage::All || std::getenv("SHEDBOOK_ALL_CASES") != nullptr;
    std::size_t turn = 0;
    for (const NamedGround& tune : test_grounds()) {
        if (!has_chords(tune.ground)) continue;
        ++turn;
        if (!all && coverage == Coverage::Some && turn % 5 != 0) continue;
        for (std::size_t r = 0; r < test_ranges().size(); ++r) {
            for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
                if (!all && (r != turn % test_ranges().size() || seed != 1 + turn % kSeeds)) continue;
                INFO(tune.name << ", " << test_ranges()[r].instrument << ", seed " << seed);
                check(tune.ground, test_ranges()[r].range, seed);
            }
        }
    }
}

}  // namespace shedbook
