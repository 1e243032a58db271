// Every drill on every scale, every root and the range of every instrument.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <iostream>
#include <set>
#include <string>
#include <vector>

#include "drill/note_names.h"
#include "invariant_checks.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {
namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr std::size_t kRangesEach = 1;
constexpr std::size_t kEvery = 9;  // so many combinations for one that is tried
#else
constexpr std::size_t kRangesEach = 6;
constexpr std::size_t kEvery = 1;
#endif

// SHEDBOOK_TEST_ALL=1 tries all ranges in place of a few that change from one scale to the next.
bool tries_all() {
    const char* set = std::getenv("SHEDBOOK_TEST_ALL");
    return set != nullptr && std::string{set} == "1";
}

// Sounding ranges of all instruments: student, practical and full, each once.
const std::vector<PitchRange>& ranges() {
    static const std::vector<PitchRange> kRanges = [] {
        std::vector<PitchRange> out;
        for (const Instrument& instrument : instruments()) {
            for (const WrittenRange& range : {instrument.practical, instrument.student, instrument.full}) {
                const PitchRange sounding = sounding_range(instrument, range);
                if (std::ranges::find(out, sounding) == out.end()) out.push_back(sounding);
            }
        }
        return out;
    }();
    return kRanges;
}

struct Count {
    long tried = 0;
    long planned = 0;
    std::set<std::string> wrong;  // drills, each reported once
};

void try_one(const DrillTemplate& drill, const ScaleLadder& ladder, PitchRange range, Count& count) {
    ++count.tried;
    const std::vector<PitchRange> one{range};
    const auto plan = plan_drill(drill, ladder, one);
    if (!plan) return;
    ++count.planned;
    const ConcertLine line = evaluate(drill, ladder, *plan, range);
    const std::string fault = fault_of({drill, ladder, *plan, line, range});
    if (fault.empty() || !count.wrong.insert(drill.id).second) return;
    FAIL_CHECK(drill.id << " over " << (ladder.chord() ? to_string(*ladder.chord()) + ", " : "")
                        << to_string(ladder.scale()) << ", " << to_string(range.low) << " to "
                        << to_string(range.high) << " (" << plan->remark << "): " << fault << ": "
                        << names(line));
}

}  // namespace

TEST_CASE("every drill keeps its invariants over all scales, roots and instruments", "[drill]") {
    Count count;
    std::size_t turn = 0;
    for (const DrillTemplate& drill : drill_templates()) {
        for (const ScaleType& type : scale_types()) {
            for (int fifths = -5; fifths <= 6; ++fifths) {
                const ScaleLadder ladder{Scale{PitchClass::from_fifths(fifths), &type}, std::nullopt};
                if (tries_all()) {
                    for (const PitchRange range : ranges()) try_one(drill, ladder, range, count);
                    continue;
                }
                ++turn;
                if (turn % kEvery != 0) continue;
                // 7 has no factor in common with the number of scales or roots: each drill meets every range.
                for (std::size_t k = 0; k < kRangesEach; ++k) {
                    try_one(drill, ladder, ranges()[(7 * turn + k * 31) % ranges().size()], count);
                }
            }
        }
    }
    std::cout << "drill x scale x root x range: " << drill_templates().size() << " x " << scale_types().size()
              << " x 12 x " << ranges().size() << " ranges of " << instruments().size()
              << " instruments; tried " << count.tried << ", played " << count.planned << "\n";
    CHECK(count.planned > 10'000);
}

// Pairs of a chord and its scale: Hutchinson 31.10, and the trade's first choices.
TEST_CASE("every drill keeps its invariants over chords with their scales", "[drill]") {
    static const std::vector<std::pair<std::string, std::string>> kPairs{{"", "ionian"},
                                                                         {"maj7", "ionian"},
                                                                         {"maj7", "lydian"},
                                                                         {"maj7#5", "lydian augmented"},
                                                                         {"6", "ionian"},
                                                                         {"m7", "dorian"},
                                                                         {"m7", "aeolian"},
                                                                         {"m7", "phrygian"},
                                                                         {"m6", "melodic minor"},
                                                                         {"m(maj7)", "melodic minor"},
                                                                         {"m(maj7)", "harmonic minor"},
                                                                         {"m7b5", "locrian"},
                                                                         {"m7b5", "locrian natural 2"},
                                                                         {"7", "mixolydian"},
                                                                         {"7", "phrygian dominant"},
                                                                         {"7", "mixolydian b6"},
                                                                         {"7", "lydian dominant"},
                                                                         {"7b9", "half-whole diminished"},
                                                                         {"7alt", "altered"},
                                                                         {"7#5", "whole tone"},
                                                                         {"7sus4", "mixolydian"},
                                                                         {"dim7", "whole-half diminished"},
                                                                         {"dim7", "ultra locrian"},
                                                                         {"m", "dorian"}};
    Count count;
    std::size_t turn = 0;
    for (const DrillTemplate& drill : drill_templates()) {
        for (const auto& [suffix, scale] : kPairs) {
            for (int fifths = -5; fifths <= 6; ++fifths) {
                if (++turn % kEvery != 0) continue;
                const PitchClass root = PitchClass::from_fifths(fifths);
                const auto chord = parse_chord_symbol(to_string(root) + suffix);
                const auto type = find_scale_type(scale);
                REQUIRE(chord);
                REQUIRE(type != nullptr);
                const ScaleLadder ladder{Scale{root, type}, chord};
                for (std::size_t k = 0; k < kRangesEach; ++k) {
                    try_one(drill, ladder, ranges()[(7 * turn + k * 31) % ranges().size()], count);
                }
            }
        }
    }
    std::cout << "drill x chord with scale x root: tried " << count.tried << ", played " << count.planned
              << "\n";
    CHECK(count.planned > 4'000);
}

TEST_CASE("every shipped drill says what its notes keep", "[drill]") {
    for (const DrillTemplate& drill : drill_templates()) {
        INFO(drill.id);
        CHECK(drill.keeps != DrillInvariants{});
    }
}

}  // namespace shedbook
