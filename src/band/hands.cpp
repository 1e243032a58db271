#include "shedbook/band/hands.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <iterator>
#include <utility>

#include "voicings.h"

namespace shedbook {
namespace {

constexpr std::size_t kGuideTones = 2;
constexpr int kOffMiddle = 4;  // in tenths of a semitone, as voicings.h counts, for each semitone
constexpr int kLoweredNinth = 1;
constexpr int kRaisedNinth = 3;

int over(int root, int key) {
    return ((key - root) % 12 + 12) % 12;
}

// Semitones over the root of two voices that may lie a half step apart: 9 and minor 3, 13 and 7, 7 and root.
bool may_rub(int low, int high) {
    constexpr std::array<std::pair<int, int>, 3> kKnown{{{2, 3}, {9, 10}, {11, 0}}};
    return std::ranges::find(kKnown, std::pair{low, high}) != kKnown.end();
}

bool reads_well(const Voicing& voicing, int root) {
    constexpr int kThird = 4;
    const auto over_root = [&](int key) { return over(root, key); };
    const auto sharp_ninth = std::ranges::find(voicing, kRaisedNinth, over_root);
    const bool has_both =
        sharp_ninth != voicing.end() && std::ranges::find(voicing, kThird, over_root) != voicing.end();
    if (has_both && sharp_ninth + 1 != voicing.end()) return false;
    for (std::size_t i = 1; i < voicing.size(); ++i) {
        if (voicing[i] - voicing[i - 1] > 1) continue;
        if (i == 1 || !may_rub(over(root, voicing[i - 1]), over(root, voicing[i]))) return false;
    }
    return true;
}

// The tones a hand may play: an altered chord that names no ninth has either of both.
std::vector<std::vector<int>> tones_for_hand(const HandChord& chord) {
    constexpr std::size_t kMostTones = 4;
    const ChordSymbol& symbol = chord.symbol;
    std::vector<std::vector<int>> out{comping_tones(symbol)};
    if (chord.ninth && out[0].size() < kMostTones) out[0].push_back(chord.ninth->semitone());
    const int root = symbol.root.semitone();
    if (symbol.kind->id != "altered_seventh" || over(root, out[0].back()) != kRaisedNinth) return out;
    out.push_back(out[0]);
    out[1].back() = (root + kLoweredNinth) % 12;
    return out;
}

std::vector<Placed> rootless_of(const HandChord& chord, KeySpan within) {
    constexpr int kHand = 12;  // semitones: what lies under it with four fingers
    std::vector<Placed> out;
    std::vector<Placed> wide;
    std::vector<Placed> all;
    for (const std::vector<int>& tones : tones_for_hand(chord)) {
        for (Placed& placed : placed_voicings(tones, within)) {
            const Voicing& voicing = placed.voicing;
            const bool is_full = voicing.size() == tones.size();
            if (is_full && reads_well(voicing, chord.symbol.root.semitone()))
                (voicing.back() - voicing.front() <= kHand ? out : wide).push_back(placed);
            all.push_back(std::move(placed));
        }
    }
    return !out.empty() ? out : !wide.empty() ? wide : all;
}

std::vector<Placed> guide_tones_of(const HandChord& chord, KeySpan within) {
    std::vector<int> tones = comping_tones(chord.symbol);
    std::erase(tones, chord.symbol.root.semitone());
    tones.resize(std::min(tones.size(), kGuideTones));
    return placed_voicings(tones, within);
}

std::vector<Voicing> led(std::vector<std::vector<Placed>> choices, const Voicing& unlike) {
    if (!choices.empty() && !unlike.empty()) {
        std::vector<Placed> others;
        std::ranges::copy_if(choices.front(), std::back_inserter(others), [&](const Placed& placed) {
            return placed.voicing.front() % 12 != unlike.front() % 12;
        });
        if (!others.empty()) choices.front() = others;
    }
    return lead_voices(choices, {}, kMostAtTop);
}

}  // namespace

std::vector<Voicing> rootless_chords(std::span<const HandChord> chords, KeySpan within,
                                     const Voicing& unlike) {
    std::vector<std::vector<Placed>> choices;
    for (const HandChord& chord : chords) choices.push_back(rootless_of(chord, within));
    return led(std::move(choices), unlike);
}

std::vector<Voicing> guide_tone_chords(std::span<const HandChord> chords, KeySpan within,
                                       const Voicing& unlike) {
    std::vector<std::vector<Placed>> choices;
    for (const HandChord& chord : chords) choices.push_back(guide_tones_of(chord, within));
    return led(std::move(choices), unlike);
}

std::vector<Voicing> bass_notes(std::span<const HandChord> chords, KeySpan within) {
    const int middle = (within.low + within.high) / 2;
    std::vector<std::vector<Placed>> choices;
    for (const HandChord& chord : chords) {
        const int bass = chord.symbol.bass.value_or(chord.symbol.root).semitone();
        std::vector<Placed>& placed = choices.emplace_back();
        for (int key = within.low; key <= within.high; ++key) {
            if (key % 12 == bass) placed.push_back({{key}, kOffMiddle * std::abs(key - middle)});
        }
    }
    return lead_voices(choices);
}

}  // namespace shedbook
