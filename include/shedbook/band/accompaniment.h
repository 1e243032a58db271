// What a band is made of: chords, bars and notes, and a bass line to study, which follows from chord symbols,
// bars and a seed alone. rhythm_section.h plays.
//
//     std::vector<BandNote> bass = bass_line(chords, bars, BassFeel::Walking, 1);
//     bass.front().key;                                        // 38 for Dm7: D2, the root on the change
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// A chord as it sounds, from its place in the music to the next; nothing: no chord, and the band is silent.
struct BandChord {
    Position at;
    Duration length;
    std::optional<ChordSymbol> symbol;
    unsigned scale = 0;  // pitch classes of its scale, bit 0 is C; 0: not known
};

// A bar as played. One that is shorter than its meter is a pickup and counts from the end of the bar.
struct BandBar {
    Position at;
    Duration length;
    Meter meter;
};

// How hard a note is played, against the others of its instrument.
enum class Touch : std::int8_t { Soft, Plain, Weight };

struct BandNote {
    Position at;
    Duration length;
    int key = 0;  // MIDI key number
    Touch touch = Touch::Plain;
    friend bool operator==(const BandNote&, const BandNote&) = default;
};

// The keys of a chord that are struck together, rising.
using Voicing = std::vector<int>;
// Key numbers, both ends in.
struct KeySpan {
    int low = 0;
    int high = 0;
};
// The lowest string of a bass and the D above its octave: E1 to D3.
inline constexpr int kBassLowest = 28;
inline constexpr int kBassHighest = 50;
// Where a left hand's chords neither rumble nor get into the line's way: E3 to G4.
inline constexpr int kCompingLowest = 52;
inline constexpr int kCompingHighest = 67;

enum class BassFeel {
    Walking,   // one note a beat
    Straight,  // root and fifth in long and short notes, for straight eighths
};

// Each change has its bass (the slash bass, or the root); between stand chord tones and notes that lead by a
// half or whole step to the next one; never a leap over an octave. `within`: a part of kBassLowest to
// kBassHighest that holds an octave.
[[nodiscard]] std::vector<BandNote> bass_line(std::span<const BandChord> chords,
                                              std::span<const BandBar> bars, BassFeel feel, unsigned seed,
                                              KeySpan within = {kBassLowest, kBassHighest});

// The pitch classes (0 to 11) that comping plays for a symbol, the guide tones first.
[[nodiscard]] std::vector<int> comping_tones(const ChordSymbol& symbol);

}  // namespace shedbook
