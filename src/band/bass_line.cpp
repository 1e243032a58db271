#include <cassert>

#include "bass_search.h"
#include "shedbook/band/accompaniment.h"

namespace shedbook {

std::vector<BandNote> bass_line(std::span<const BandChord> chords, std::span<const BandBar> bars,
                                BassFeel feel, unsigned seed, KeySpan within) {
    assert(within.low >= kBassLowest && within.high <= kBassHighest && within.high - within.low >= 12);
    const std::vector<BassBeat> beats = bass_beats(chords, bars, feel, within);
    const BassManner manner = feel == BassFeel::Straight ? BassManner::StudyStraight : BassManner::StudyWalk;
    const std::vector<int> keys = cheapest_keys(beats, manner, seed);
    std::vector<BandNote> out;
    for (std::size_t i = 0; i < beats.size(); ++i) out.push_back({beats[i].at, beats[i].length, keys[i]});
    return out;
}

}  // namespace shedbook
