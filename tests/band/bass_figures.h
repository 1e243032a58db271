// What a bass does from beat to beat, counted as the table counts it that the band is held to: figures of 343
// solos in 4/4 of the Weimar Jazz Database (Jazzomat project, ODbL), from its beat tracks with the bass note
// of each beat. M. Pfleiderer, K. Frieler, J. Abesser, W.-G. Zaddach, B. Burkhart (eds.), Inside the
// Jazzomat, Schott 2017.
#pragma once

#include <array>
#include <cstdlib>
#include <optional>
#include <vector>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// A beat of a bar of 4/4, and the note that sounds on it.
struct BassAtBeat {
    std::optional<int> key;
    const ChordSymbol* symbol = nullptr;
    std::size_t chord = 0;  // its number in the tune
    bool is_change = false;
    int beat = 0;  // 0 to 3
};

struct Share {
    int of = 0;
    int yes = 0;
    void add(bool is) {
        ++of;
        yes += is ? 1 : 0;
    }
    void add(const Share& other) {
        of += other.of;
        yes += other.yes;
    }
    [[nodiscard]] double percent() const { return of == 0 ? 0 : 100.0 * yes / of; }
};

enum BassFigure : std::size_t {
    kRootOnChange,
    kToneOnChange,
    kToneOnOne,
    kToneOnTwo,
    kToneOnThree,
    kToneOnFour,
    kStepIntoChange,
    kFourthIntoChange,
    kSameIntoChange,
    kSame,
    kStep,
    kThird,
    kFourth,
    kSixthToOctave,
    kOverOctave,
    kBassFigures
};
using BassShares = std::array<Share, kBassFigures>;

inline BassShares bass_shares(const std::vector<BassAtBeat>& beats) {
    BassShares out;
    for (std::size_t i = 0; i < beats.size(); ++i) {
        const BassAtBeat& beat = beats[i];
        if (!beat.key || beat.symbol == nullptr) continue;
        const int bass = beat.symbol->bass.value_or(beat.symbol->root).semitone();
        const int over = (*beat.key - beat.symbol->root.semitone() + 120) % 12;
        const bool is_tone = has_tone(*beat.symbol, over) || *beat.key % 12 == bass;
        if (beat.is_change) {
            out[kRootOnChange].add(*beat.key % 12 == bass);
            out[kToneOnChange].add(is_tone);
        }
        out[kToneOnOne + static_cast<std::size_t>(beat.beat)].add(is_tone);
        if (i == 0 || !beats[i - 1].key) continue;
        const int size = std::abs(*beat.key - *beats[i - 1].key);
        const bool is_step = size == 1 || size == 2;
        const bool is_fourth = size == 5 || size == 7;
        if (beat.is_change) {
            out[kStepIntoChange].add(is_step);
            out[kFourthIntoChange].add(is_fourth);
            out[kSameIntoChange].add(size == 0);
        }
        out[kSame].add(size == 0);
        out[kStep].add(is_step);
        out[kThird].add(size == 3 || size == 4);
        out[kFourth].add(is_fourth);
        out[kSixthToOctave].add(size >= 8 && size <= 12);
        out[kOverOctave].add(size > 12);
    }
    return out;
}

}  // namespace shedbook
