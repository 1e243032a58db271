// What the words of a tune and a player's wish make of style and eighths; how hard and how late each
// instrument of the band comes in.
#pragma once

#include <optional>
#include <string>

#include "shedbook/band/rhythm_section.h"
#include "shedbook/write/sound_options.h"
#include "tempo_plan.h"

namespace shedbook {

struct Manner {
    BandStyle style = BandStyle::Swing;
    Feel feel = Feel::Swing;
    std::optional<PulseAsked> pulse = {};  // of the bass, where the words say
};
// `words`: the tune's Feel.
[[nodiscard]] Manner manner_of(const std::string& words, Feel asked, const Meter& meter, Played as,
                               double quarters_per_minute);

// In this style, at this tempo, without a chorus before or after: half as many notes in the bass.
[[nodiscard]] bool is_slow(BandStyle style, double quarters_per_minute);

enum class BandPart { Chords, Bass, Drums };
enum class PlaceInBar { One, Strong, Weak, OffBeat };

// MIDI velocity. `full`: how much is going on in the chorus, 1 to kFullest.
[[nodiscard]] int velocity_of(BandPart part, PlaceInBar place, Touch touch, BandStyle style, int full);
// Milliseconds after the beat; before it if negative.
[[nodiscard]] int delay_of(BandPart part, PlaceInBar place, BandStyle style);

}  // namespace shedbook
