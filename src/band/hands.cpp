#include "shedbook/band/hands.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

#include "voicings.h"

namespace shedbook {
namespace {

constexpr std::size_t kGuideTones = 2;
constexpr int kFewestApart = 3;   // semitones: a second so low is mud
constexpr int kLowestThird = 43;  // G2: a third further down is mud too
constexpr int kMud = 60;          // in tenths of a semitone, as voicings.h counts
constexpr int kOffMiddle = 4;     // for each semitone

int bass_class_of(const ChordSymbol& symbol) {
    return symbol.bass.value_or(symbol.root).semitone();
}

int over(int bass, int pitch_class) {
    return ((pitch_class - bass) % 12 + 12) % 12;
}

// Third and seventh, or what the chord has for them; of a chord without a seventh only the first is one.
std::vector<int> guides_over(const ChordSymbol& symbol) {
    std::vector<int> tones = comping_tones(symbol);
    tones.resize(std::min(tones.size(), kGuideTones));
    const int bass = bass_class_of(symbol);
    std::erase_if(tones, [&](int tone) { return over(bass, tone) < kFewestApart; });
    return tones;
}

std::vector<Placed> shells_of(const ChordSymbol& symbol, KeySpan within) {
    const std::vector<int> guides = guides_over(symbol);
    const int middle = within.low + 7;
    std::vector<Placed> out;
    for (int key = within.low; key <= within.high - 12; ++key) {
        if (key % 12 != bass_class_of(symbol)) continue;
        const int cost = kOffMiddle * std::abs(key - middle);
        for (const int guide : guides) {
            const int above = over(key, guide);
            const bool is_mud = above <= 4 && key < kLowestThird;
            out.push_back({{key, key + above}, cost + (is_mud ? kMud : 0)});
        }
        if (guides.empty()) out.push_back({{key, key + 7}, cost});  // nothing but its fifth
    }
    return out;
}

}  // namespace

std::vector<Voicing> rootless_chords(std::span<const ChordSymbol> symbols, KeySpan within,
                                     const Voicing& unlike) {
    std::vector<std::vector<Placed>> choices;
    for (const ChordSymbol& symbol : symbols)
        choices.push_back(placed_voicings(comping_tones(symbol), within));
    if (!choices.empty() && !unlike.empty()) {
        std::vector<Placed> others;
        std::ranges::copy_if(choices.front(), std::back_inserter(others), [&](const Placed& placed) {
            return placed.voicing.front() % 12 != unlike.front() % 12;
        });
        if (!others.empty()) choices.front() = others;
    }
    return lead_voices(choices);
}

std::vector<Voicing> shells(std::span<const ChordSymbol> symbols, KeySpan within) {
    std::vector<std::vector<Placed>> choices;
    for (const ChordSymbol& symbol : symbols) choices.push_back(shells_of(symbol, within));
    return lead_voices(choices);
}

}  // namespace shedbook
