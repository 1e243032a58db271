// Changes that nobody would write, for properties that must hold over all of them.
#pragma once

#include <random>
#include <vector>

#include "shedbook/band/accompaniment.h"

namespace shedbook {

struct Changes {
    std::vector<BandChord> chords;
    std::vector<BandBar> bars;
};

class RandomChanges {
  public:
    explicit RandomChanges(unsigned seed) : random_{seed} {}

    Changes make(const Meter& meter, int bar_count) {
        Changes out;
        Position at;
        for (int i = 0; i < bar_count; ++i) {
            out.bars.push_back({at, meter.bar_length(), meter});
            // Chords begin on beats, rarely between them; a bar may hold on to the last one's.
            const Duration unit = meter.unit_length();
            for (int beat = 0; beat < meter.beats; ++beat) {
                const bool begins = beat == 0 ? below(4) > 0 : below(6) == 0;
                if (begins)
                    start_chord(out, at + unit * Rational{beat} + (below(20) == 0 ? kEighth : Duration{}));
            }
            at += meter.bar_length();
        }
        for (std::size_t i = 0; i < out.chords.size(); ++i) {
            const Position end = i + 1 < out.chords.size() ? out.chords[i + 1].at : at;
            out.chords[i].length = end - out.chords[i].at;
        }
        return out;
    }

  private:
    unsigned below(unsigned n) { return static_cast<unsigned>(random_() % n); }

    void start_chord(Changes& out, Position at) {
        if (!out.chords.empty() && out.chords.back().at >= at) return;
        BandChord chord{at, {}, std::nullopt, 0};
        if (below(30) > 0) {
            ChordSymbol symbol;
            symbol.root = PitchClass::from_fifths(static_cast<int>(below(15)) - 7);
            symbol.kind = &chord_kinds()[below(static_cast<unsigned>(chord_kinds().size()))];
            if (below(8) == 0) symbol.bass = PitchClass::from_fifths(static_cast<int>(below(15)) - 7);
            chord.symbol = symbol;
        }
        out.chords.push_back(chord);
    }

    std::mt19937 random_;
};

}  // namespace shedbook
