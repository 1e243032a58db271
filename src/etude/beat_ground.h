// The ground of an etude counted in beats of sixty ticks, whatever the meter: what the search works on.
#pragma once

#include <cstdint>
#include <vector>

#include "chord_facts.h"
#include "shedbook/etude/ground.h"

namespace shedbook {

inline constexpr int kBeatTicks = 60;

struct BeatChord : ChordFacts {
    int start = 0;  // ticks
    int end = 0;
    bool sounds = false;  // false: no chord, the line rests
    SoundSet scale = 0;   // the analysis' scale, and the tones
    SoundSet avoid = 0;
    int meaning = 0;  // chords alike have the same number
    const ScaleSpan* span = nullptr;
};

struct Beat {
    Position at;
    Duration length;
    int bar = 0;
    int in_bar = 0;
    enum class Division : std::int8_t { Two, Three, None } division = Division::Two;
};

struct BeatGround {
    std::vector<Beat> beats;
    std::vector<int> bar_start;  // ticks; one more than bars
    std::vector<BeatChord> chords;
    bool is_common_time = true;  // four beats in every bar

    [[nodiscard]] int bars() const { return static_cast<int>(bar_start.size()) - 1; }
    [[nodiscard]] int ticks() const { return static_cast<int>(beats.size()) * kBeatTicks; }
    [[nodiscard]] Position position(int tick) const;
};

// Bars [first, last) of the ground. `triplets`: beats that divide in two divide in three instead.
[[nodiscard]] BeatGround beat_ground(const EtudeGround& ground, std::size_t first, std::size_t last,
                                     bool triplets);

// A chord that is to be heard: two quarters long or more, chords alike in a row being one.
struct ChordDuty {
    int start = 0;  // ticks
    int end = 0;
    SoundSet tell = 0;
};
[[nodiscard]] std::vector<ChordDuty> chord_duties(const BeatGround& ground);

}  // namespace shedbook
