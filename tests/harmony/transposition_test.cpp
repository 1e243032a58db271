// The analysis of a tune in another key is the analysis of the tune, moved: no key is judged by its name.
#include <algorithm>
#include <random>

#include "analysed.h"

namespace shedbook {
namespace {

// Everything in a reading that does not depend on the key's name, roots and scales as half steps over
// `tonic`.
std::string fingerprint(const Reading& reading, int tonic) {
    const auto over = [tonic](int semitone) { return std::to_string(((semitone - tonic) % 12 + 12) % 12); };
    std::string out = over(reading.key.tonic.semitone()) + to_string(reading.key.mode) + " " +
                      reading.numeral + " " + to_string(reading.function) + " " +
                      over(reading.scale.scale.tonic.semitone()) + std::string{reading.scale.scale.type->id};
    for (const ScaleChoice& other : reading.alternatives) out += " " + std::string{other.scale.type->id};
    if (reading.target) out += " to " + std::to_string(*reading.target);
    return out;
}

std::vector<std::string> fingerprints(const Analysed& tune, int tonic) {
    const Analysis& analysis = tune.analysis;
    std::vector<std::string> out{std::to_string(((analysis.home.tonic.semitone() - tonic) % 12 + 12) % 12) +
                                 to_string(analysis.home.mode) + analysis.form};
    for (std::size_t i = 0; i < analysis.readings.size(); ++i) {
        out.push_back(fingerprint(analysis.readings[i], tonic));
        for (const Reading& other : analysis.also[i]) out.push_back(fingerprint(other, tonic));
    }
    return out;
}

Chart moved(const Chart& chart, int semitones) {
    constexpr int kSteps[12] = {0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};
    return transposed(chart, Interval{kSteps[semitones], semitones});
}

void check_all_keys(const Chart& chart, const std::string& name) {
    const std::vector<std::string> expected = fingerprints(analysed(chart), 0);
    for (int semitones = 1; semitones < 12; ++semitones) {
        INFO(name << " up " << semitones);
        const std::vector<std::string> got = fingerprints(analysed(moved(chart, semitones)), semitones);
        REQUIRE(got.size() == expected.size());
        const auto differs = std::ranges::mismatch(got, expected);
        if (differs.in1 == got.end()) continue;
        INFO(*differs.in1 << "  against  " << *differs.in2);
        CHECK(differs.in1 == got.end());
    }
}

ChordSymbol symbol(int semitone, std::string_view kind) {
    ChordSymbol out;
    out.root = simplest_name(semitone);
    out.kind = find_chord_kind(kind);
    REQUIRE(out.kind != nullptr);
    return out;
}

Chart chart_of(const std::vector<ChordSymbol>& symbols) {
    Chart out;
    out.meter = Meter{4, 4};
    out.sections.push_back({"A", {}});
    for (const ChordSymbol& chord : symbols) {
        Bar bar;
        bar.chords.push_back({.at = Position{}, .symbol = chord});
        out.sections[0].bars.push_back(bar);
    }
    return out;
}

constexpr std::string_view kKinds[]{"major",           "major_seventh",   "dominant_seventh",   "minor",
                                    "minor_seventh",   "half_diminished", "diminished_seventh", "minor_sixth",
                                    "suspended_fourth"};

}  // namespace

TEST_CASE("two chords mean the same in all twelve keys, whatever they are", "[harmony]") {
    for (const std::string_view first : kKinds) {
        for (const std::string_view second : kKinds) {
            for (int step = 0; step < 12; ++step) {
                const Chart chart = chart_of({symbol(0, first), symbol(step, second)});
                check_all_keys(
                    chart, std::string{first} + ", " + std::string{second} + " on " + std::to_string(step));
            }
        }
    }
}

TEST_CASE("random progressions mean the same in all twelve keys", "[harmony]") {
    std::mt19937 random{20240611};
    const auto below = [&](std::uint32_t n) { return static_cast<int>(random() % n); };
    for (int trial = 0; trial < 60; ++trial) {
        std::vector<ChordSymbol> chords;
        for (int i = 0; i < 4 + below(20); ++i) {
            chords.push_back(symbol(below(12), kKinds[static_cast<std::size_t>(below(std::size(kKinds)))]));
        }
        check_all_keys(chart_of(chords), "trial " + std::to_string(trial));
    }
}

TEST_CASE("every sample chart means the same in all twelve keys", "[harmony]") {
    for (const Chart& chart : sample_charts()) check_all_keys(chart, chart.id);
}

}  // namespace shedbook
