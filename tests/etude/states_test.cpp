// That a composed etude states the chords it goes over, as a teacher counts (common practice, no source).
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>
#include <vector>

#include "grounds.h"

namespace shedbook {
namespace {

// Semitones over the root.
struct Spelt {
    std::set<int> tones;              // 1 3 5 7
    std::vector<std::set<int>> each;  // of every one of these a note
    std::set<int> denies;             // what unsays it where it stands on a beat
};

Spelt spelt(const ScaleSpan& span) {
    const auto has = [&](const std::vector<PitchClass>& notes, int over_root) {
        return std::ranges::any_of(notes, [&](PitchClass note) {
            return (note.semitone() - span.symbol->root.semitone() + 12) % 12 == over_root;
        });
    };
    Spelt out;
    for (const int tone : {0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}) {
        if (has(span.chord, tone)) out.tones.insert(tone);
    }
    switch (family(*span.symbol)) {
        case ChordFamily::Dominant:
            out.tones = {0, 4, 10, has(span.chord, 7) ? 7 : 10};
            out.each = {{4}};
            if (has(span.chord, 1) || has(span.chord, 3)) out.denies = {2};
            if (has(span.chord, 8)) out.denies.insert(9);
            break;
        case ChordFamily::HalfDiminished:
            out.tones = {0, 3, 6, 10};
            out.each = {{6}, {0, 3}};
            out.denies = {4, 7};
            break;
        case ChordFamily::Major:
            out.denies = {3, 10};
            break;
        case ChordFamily::Diminished:
            out.each = {{0}};
            break;
        case ChordFamily::Minor:
            if (has(span.chord, 9)) out.each = {{3}};
            break;
        default:
            break;
    }
    return out;
}

struct Stated {
    int chords = 0;
    int bare = 0;     // fewer than two of its tones
    int without = 0;  // a note that it is told by is missing
    int late = 0;     // no tone in its first two beats
    int denied = 0;   // notes on beats
};

void judge(const EtudeGround& ground, const ConcertLine& line, Stated& sum) {
    for (std::size_t s = 0; s < ground.spans.size(); ++s) {
        const ScaleSpan& span = ground.spans[s];
        const bool goes_on = s > 0 && ground.spans[s - 1].symbol == span.symbol;
        if (span.notes.empty() || goes_on || span.length < kHalf) continue;
        Position end = span.at + span.length;
        for (std::size_t k = s + 1; k < ground.spans.size() && ground.spans[k].symbol == span.symbol; ++k)
            end = ground.spans[k].at + ground.spans[k].length;
        // The end is one note that is held.
        if (end >= Position{} + ground.length || end <= line.notes.front().at) continue;
        const Spelt spelling = spelt(span);
        std::set<int> heard;
        bool early = false;
        for (const LineNote& note : line.notes) {
            const Position to = note.at + note.length;
            const bool counts = note.at + kEighth >= span.at || to - span.at >= kEighth;
            if (note.at >= end || to <= span.at || !counts) continue;
            const int over = (note.pitch.midi() - span.symbol->root.semitone() + 120) % 12;
            const bool is_tone = spelling.tones.contains(over);
            if (is_tone) heard.insert(over);
            early = early || (is_tone && note.at < span.at + kHalf);
            const GroundBar& bar = *(std::ranges::upper_bound(ground.bars, note.at, {}, &GroundBar::at) - 1);
            const bool on_beat = ((note.at - bar.at) / kQuarter).is_whole();
            if (on_beat && note.at >= span.at && spelling.denies.contains(over)) ++sum.denied;
        }
        ++sum.chords;
        sum.bare += heard.size() < 2 ? 1 : 0;
        sum.late += early ? 0 : 1;
        sum.without += std::ranges::any_of(spelling.each,
                                           [&](const std::set<int>& tones) {
                                               return std::ranges::none_of(
                                                   tones, [&](int tone) { return heard.contains(tone); });
                                           })
                           ? 1
                           : 0;
    }
}

}  // namespace

TEST_CASE("a composed etude states its chords: two tones of each, those that tell it, one of them early",
          "[etude][composed][states]") {
    // In a hundred chords, and two more where there are few. The first level has one note a chord where they
    // pass fast; the last ones play as players do.
    struct Most {
        int level;
        int bare;
        int without;
        int late;
    };
    for (const Most& most :
         {Most{1, 16, 4, 4}, Most{2, 7, 1, 2}, Most{3, 5, 1, 2}, Most{4, 3, 1, 2}, Most{6, 8, 3, 3}}) {
        Stated sum;
        for_each_case(Coverage::Some, [&](const EtudeGround& ground, PitchRange range, std::uint64_t seed) {
            if (ground.bars.front().meter.is_compound()) return;
            const EtudeRequest request{.kind = "composed", .level = most.level, .seed = seed};
            judge(ground, make_etude(ground, request, range), sum);
        });
        INFO("level " << most.level << ", " << sum.chords << " chords");
        CHECK(100 * (sum.bare - 2) <= most.bare * sum.chords);
        CHECK(100 * (sum.without - 2) <= most.without * sum.chords);
        CHECK(100 * (sum.late - 2) <= most.late * sum.chords);
        CHECK(100 * (sum.denied - 2) <= sum.chords);
    }
}

}  // namespace shedbook
