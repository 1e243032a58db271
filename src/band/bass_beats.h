// The places that a bass plays on, and what each note of the bass would be there.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "shedbook/band/accompaniment.h"

namespace shedbook {

// What a note is over the chord of its beat. Bass: the written bass, else the root.
enum class BassTone : std::int8_t { Bass, Third, Fifth, Seventh, Colour, Scale, Other };
inline constexpr std::size_t kBassTones = 7;

// From a note to the next one: by half or whole step, third, fourth or fifth, or a sixth to an octave.
enum class BassMotion : std::int8_t { Same, Step, Third, Fourth, Tritone, Wide };

// D2: the middle of the part of the bass that walks best.
inline constexpr int kBassCentre = 38;

struct BassBeat {
    Position at;
    Duration length;
    bool is_change = false;  // a chord begins here: its bass and nothing else
    bool starts_bar = false;
    bool is_strong = false;               // begins a group of the bar
    bool leads_on = false;                // another beat follows without a gap
    std::array<BassTone, 12> tones{};     // by pitch class
    std::vector<int> keys;                // what may be played here, rising
    int centre = kBassCentre;             // about where the line lies here
    std::optional<BassTone> wanted = {};  // what should stand here, and the cost of anything else
    int wanted_cost = 0;
    std::optional<int> stale = {};        // a key that was heard here too often
    std::optional<BassMotion> wish = {};  // how it should go on, and the cost of another way
    int wish_cost = 0;
    // Semitones from the note before, and from the one before that, where a figure says so.
    std::optional<int> rise = {}, rise_of_two = {};

    [[nodiscard]] BassTone tone(int key) const { return tones[static_cast<std::size_t>(key % 12)]; }
    [[nodiscard]] bool is_outside(int key) const { return tone(key) >= BassTone::Scale; }
};

// What each pitch class is over one of the chords, which has a symbol.
[[nodiscard]] std::array<BassTone, 12> bass_tones(std::span<const BandChord> chords, std::size_t which);

[[nodiscard]] std::vector<BassBeat> bass_beats(std::span<const BandChord> chords,
                                               std::span<const BandBar> bars, BassFeel feel, KeySpan within);

}  // namespace shedbook
