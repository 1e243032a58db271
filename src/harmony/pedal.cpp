#include "pedal.h"

#include <set>
#include <span>

namespace shedbook {
namespace {

bool is_pedal(std::span<const ChordView> row) {
    std::set<std::pair<int, unsigned>> all;
    std::set<std::pair<int, unsigned>> foreign;
    for (const ChordView& chord : row) {
        all.emplace(chord.root, chord.tones);
        if (chord.is_over_foreign_bass) foreign.emplace(chord.root, chord.tones);
    }
    return all.size() >= 3 && foreign.size() >= 2;
}

// The third over the bass that sounds longer; the major one if neither does.
Tonality key_on_bass(std::span<const ChordView> row) {
    const int bass = row.front().bass;
    double minor = 0;
    double major = 0;
    for (const ChordView& chord : row) {
        const auto sounds = [&](int semitones) {
            return (chord.tones & bit(above(bass + semitones, chord.root))) != 0;
        };
        if (sounds(3)) minor += chord.beats;
        if (sounds(4)) major += chord.beats;
    }
    return {bass, minor > major ? Ground::Minor : Ground::Major};
}

}  // namespace

void rest_on_pedals(const std::vector<ChordView>& chords, KeyReading& keys) {
    for (std::size_t from = 0; from < chords.size();) {
        std::size_t to = from + 1;
        while (to < chords.size() && chords[to].bass == chords[from].bass) ++to;
        const std::span row{chords.data() + from, to - from};
        if (is_pedal(row)) {
            const bool comes_home = to < chords.size() && chords[to].root == keys.keys[to].tonic &&
                                    above(chords[from].bass, keys.keys[to].tonic) == 7;
            const Tonality key = comes_home ? keys.keys[to] : key_on_bass(row);
            for (std::size_t i = from; i < to; ++i) keys.keys[i] = key;
        }
        from = to;
    }
}

}  // namespace shedbook
