#include "key_loop.h"

#include <algorithm>

namespace shedbook {
namespace {

constexpr int kOctaveKeys = 12;

// Of so many semitones, named on the flat side: up a fourth rather than an augmented third.
Interval interval_up(int semitones) {
    const int around = ((semitones * 7) % kOctaveKeys + kOctaveKeys) % kOctaveKeys;
    return PitchClass::from_fifths(around > 6 ? around - kOctaveKeys : around) - kC;
}

ChordSymbol dominant_of(const ChordSymbol& chord) {
    ChordSymbol out;
    out.root = PitchClass::from_fifths(chord.root.fifths() + 1);
    out.kind = find_chord_kind("dominant_seventh");
    return out;
}

class KeyLoop {
  public:
    KeyLoop(Performance& piece, const std::vector<int>& keys) : piece_{piece}, keys_{keys} {}

    void run() {
        for (BandChord& chord : piece_.chords) {
            const int by = shift_at(chord.at);
            if (chord.symbol) chord.symbol = transposed(*chord.symbol, interval_up(by));
            chord.scale = turned(chord.scale, by);
        }
        for (PlayedNote& note : piece_.line) note.key += nearest(shift_at(note.at));
        for (BandNote& note : piece_.heard) note.key += nearest(shift_at(note.at));
        for (std::size_t pass = 1; pass < piece_.passes.size(); ++pass) prepare(pass);
    }

  private:
    [[nodiscard]] int key_of(std::size_t pass) const { return keys_[pass % keys_.size()]; }
    [[nodiscard]] int shift_at(Position at) const {
        const auto after = std::ranges::upper_bound(piece_.passes, at);
        const auto pass = after == piece_.passes.begin() ? 0 : after - piece_.passes.begin() - 1;
        return ((key_of(static_cast<std::size_t>(pass)) - key_of(0)) % kOctaveKeys + kOctaveKeys) %
               kOctaveKeys;
    }
    static int nearest(int semitones) {
        return semitones > kOctaveKeys / 2 ? semitones - kOctaveKeys : semitones;
    }
    static unsigned turned(unsigned scale, int by) {
        const auto up = static_cast<unsigned>(by);
        return ((scale << up) | (scale >> (static_cast<unsigned>(kOctaveKeys) - up))) & 0xFFFU;
    }

    // The turn into a time through.
    void prepare(std::size_t pass) {
        const Position end = piece_.passes[pass];
        if (key_of(pass) == key_of(pass - 1)) return;
        const auto next = std::ranges::find_if(piece_.chords, [&](const BandChord& chord) {
            return chord.at >= end && chord.symbol.has_value();
        });
        const auto bar = std::ranges::lower_bound(piece_.bars, end, {}, &BandBar::at);
        if (next == piece_.chords.end() || bar == piece_.bars.begin()) return;
        const Position turn = (bar - 1)->at + (bar - 1)->length * Rational{1, 2};
        BandChord dominant{turn, end - turn, dominant_of(*next->symbol), 0};
        std::erase_if(piece_.chords,
                      [&](const BandChord& chord) { return chord.at >= turn && chord.at < end; });
        const auto at = std::ranges::lower_bound(piece_.chords, turn, {}, &BandChord::at);
        if (at != piece_.chords.begin()) {
            BandChord& last = *(at - 1);
            last.length = std::min(last.length, turn - last.at);
        }
        piece_.chords.insert(at, std::move(dominant));
    }

    Performance& piece_;
    const std::vector<int>& keys_;
};

}  // namespace

void go_through_keys(Performance& piece, const std::vector<int>& keys) {
    if (!keys.empty()) KeyLoop{piece, keys}.run();
}

}  // namespace shedbook
