// What a player may choose about how a document sounds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/band/beats.h"
#include "shedbook/base/enum_table.h"

namespace shedbook {

enum class Feel {
    AsMarked,     // what the tune says; swing where it says nothing
    Swing,        // off-beat eighths late, less so the faster it goes
    Straight,     // as written
    TwelveEight,  // off-beat eighths on the last triplet at any tempo
};
template <>
inline constexpr Worded<Feel> kWords<Feel>[] = {{Feel::AsMarked, "as-marked"},
                                                {Feel::Swing, "swing"},
                                                {Feel::Straight, "straight"},
                                                {Feel::TwelveEight, "12-8"}};

// Counted in beats of the meter a minute: a dotted quarter in 6/8, a half in cut time.
struct TempoPlan {
    int from = 0;
    int to = 0;     // the same as `from`: one tempo
    int step = 10;  // up, or down where `to` is slower; the last step ends on `to`
    int bars = 0;   // at each tempo; 0: as often as the piece is played
};

inline constexpr int kSlowestTempo = 20;
inline constexpr int kFastestTempo = 400;

struct SoundOptions {
    std::optional<TempoPlan> tempo;  // nothing: as marked
    // Instead of one: several, each in a file of its own. A writer writes one file and does not look here.
    std::vector<int> tempos;       // beats a minute
    bool tempos_of_boxes = false;  // those of the tick boxes
    Feel feel = Feel::AsMarked;
    bool line = true;  // off to play along
    bool chords = true;
    bool bass = true;
    bool drums = true;
    bool count_in = true;
    std::optional<double> excerpt;  // so many seconds of a piece at most, to bars; nothing: all of it
    std::optional<Clicks> clicks;   // nothing: the drums keep time, or 2 and 4 where there are none
    // The last `silent_bars` of every `of_bars` bars have the line alone. 0: none.
    int silent_bars = 0;
    int of_bars = 0;
    int trade_bars = 0;        // the line rests every other so many bars; 0: never
    std::optional<int> times;  // how often a piece is played; nothing: a drill four times, others once
    // Semitones over its own key, one for each time through; empty: it stays there. The turn into the next
    // one is prepared.
    std::vector<int> keys;
    unsigned seed = 1;       // of the band
    std::string sound_font;  // a file; empty: one that is found
};

}  // namespace shedbook
