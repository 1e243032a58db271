#include "band_plan.h"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "shedbook/base/checksum.h"

namespace shedbook {
namespace {

// Each time through, and the choruses that its bars make.
std::vector<Position> starts_of(const Performance& piece, int choruses) {
    constexpr std::size_t kShortest = 8;  // of fewer bars it is a lick that comes again
    std::vector<Position> out;
    for (std::size_t pass = 0; pass < piece.passes.size(); ++pass) {
        const bool is_last = pass + 1 == piece.passes.size();
        const auto from = std::ranges::lower_bound(piece.bars, piece.passes[pass], {}, &BandBar::at);
        const auto to = is_last
                            ? piece.bars.end()
                            : std::ranges::lower_bound(piece.bars, piece.passes[pass + 1], {}, &BandBar::at);
        out.push_back(piece.passes[pass]);
        // A bar over is the one that it comes home in.
        const std::size_t bars = static_cast<std::size_t>(to - from) / static_cast<std::size_t>(choruses);
        if (bars < kShortest) continue;
        for (int i = 1; i < choruses; ++i) out.push_back((from + i * static_cast<std::ptrdiff_t>(bars))->at);
    }
    return out;
}

// The first section that begins in the second half.
std::optional<Position> second_half(const Performance& piece) {
    const Position half{piece.length.whole_notes * Rational{1, 2}};
    const auto at = std::ranges::lower_bound(piece.sections, half);
    return at != piece.sections.end() ? std::optional{*at} : std::nullopt;
}

BassPulse pulse_of(const Manner& manner, const BandPlace& place, bool opens) {
    const bool is_tune = place.as == Played::Tune;
    const bool is_slow_tune = is_tune && is_slow(manner.style, place.quarters_per_minute);
    const bool is_asked = manner.pulse == PulseAsked::Two;
    return is_slow_tune || is_asked || (is_tune && opens) ? BassPulse::Two : BassPulse::Four;
}

std::vector<BandChorus> choruses_of(const Performance& piece, const Manner& manner, const BandPlace& place) {
    constexpr int kAlone = 2;
    constexpr int kFullestOfDrills = 2;
    const std::vector<Position> starts = starts_of(piece, place.choruses);
    const auto count = static_cast<int>(starts.size());
    const bool opens_in_two = count > 1 || manner.pulse == PulseAsked::TwoThenFour;
    const int fullest = place.as == Played::Drill ? kFullestOfDrills : kFullest;
    std::vector<BandChorus> out;
    for (int i = 0; i < count; ++i) {
        BandChorus chorus{starts[static_cast<std::size_t>(i)]};
        chorus.full = count == 1 ? kAlone : 1 + i * (fullest - 1) / (count - 1);
        chorus.pulse = pulse_of(manner, place, opens_in_two && i == 0);
        out.push_back(chorus);
    }
    const std::optional<Position> half = second_half(piece);
    if (count == 1 && opens_in_two && half) out.push_back({*half, kAlone, pulse_of(manner, place, false)});
    return out;
}

// The chord that a tune comes home to: the last one on its tonic, but for dominants that lead on; of a tune
// whose first chord is such a dominant, that.
std::optional<ChordSymbol> home_of(const Performance& piece, const Key& key) {
    std::optional<ChordSymbol> out;
    std::optional<ChordSymbol> first;
    for (const BandChord& chord : piece.chords) {
        if (!chord.symbol) continue;
        if (!first) first = chord.symbol;
        const bool is_home = chord.symbol->root.semitone() == key.tonic.semitone();
        if (is_home && family(*chord.symbol) != ChordFamily::Dominant) out = chord.symbol;
    }
    if (!out && first && first->root.semitone() == key.tonic.semitone()) out = first;
    if (out) out->bass.reset();
    return out;
}

std::optional<BandEnding> ending_of(const Performance& piece, const BandPlace& place) {
    const auto last = std::ranges::find_if(piece.chords.rbegin(), piece.chords.rend(),
                                           [](const BandChord& chord) { return chord.symbol.has_value(); });
    if (last == piece.chords.rend() || piece.bars.empty()) return std::nullopt;
    const Position end{piece.length.whole_notes};
    const Duration after = piece.bars.back().meter.bar_length();
    // A drill ends on the beat after its last bar.
    if (place.as == Played::Drill) return BandEnding{end, after * Rational{1, 2}, *last->symbol};
    const std::optional<ChordSymbol> home = place.key ? home_of(piece, *place.key) : std::nullopt;
    // Where the tune ends at home it is held there, else the band goes there for a bar more.
    if (home && home->root.semitone() != last->symbol->root.semitone()) return BandEnding{end, after, *home};
    const Position from = std::max(last->at, piece.bars.back().at);
    const Position to = last->at + last->length;
    if (from >= to) return BandEnding{last->at, to - last->at, *last->symbol};
    return BandEnding{from, to - from + (to == end ? after * Rational{3, 4} : Duration{}), *last->symbol};
}

// Another number for another tune, so that not all of them begin with the same rhythms; the same in every
// key.
unsigned number_of(const std::vector<BandChord>& chords) {
    constexpr std::size_t kChords = 16;
    std::string steps;
    for (std::size_t i = 0; i < std::min(chords.size(), kChords); ++i) {
        const auto root = [&](std::size_t at) {
            return chords[at].symbol ? chords[at].symbol->root.semitone() : 0;
        };
        steps += std::to_string(i == 0 ? 0 : (root(i) - root(i - 1) + 12) % 12) + " " +
                 std::to_string((chords[i].length / kEighth).floor()) + ",";
    }
    return static_cast<unsigned>(checksum(steps));
}

}  // namespace

RhythmSection plan_band(const Performance& piece, const Manner& manner, const BandPlace& place) {
    RhythmSection out;
    out.chords = piece.chords;
    out.bars = piece.bars;
    out.line = piece.heard;
    out.choruses = choruses_of(piece, manner, place);
    out.sections = piece.sections;
    out.style = manner.style;
    out.seed = place.seed + number_of(piece.chords);
    out.ending = ending_of(piece, place);
    for (const HeldPlace& hold : piece.holds) out.holds.push_back(hold.at);
    out.quarters_per_minute = place.quarters_per_minute;
    return out;
}

}  // namespace shedbook
