// What sounds in the bars of a chart, worked out once for whoever plays or prints it: repeat signs (%)
// resolved, pushed chords put where they are struck, chords of one place parted, tied notes made one.
//
//     auto bars = sounding_bars(written_bars(*chart));         // of "| C F | % |"
//     bars[1][0].chord->text;                                  // "C"
#pragma once

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/chart/chart.h"

namespace shedbook {

// Most chords, and notes of the melody, that a chart may have once its repeats are resolved.
inline constexpr std::size_t kMostPlayed = 500'000;

// The bar (from 0) with which a chart becomes more than can be played, and of what.
class TooMuchToPlay : public std::runtime_error {
  public:
    TooMuchToPlay(int bar, const std::string& what) : std::runtime_error{what}, bar_{bar} {}
    [[nodiscard]] int bar() const { return bar_; }

  private:
    int bar_;
};

// A chord as it falls into one bar.
struct SoundingChord {
    Position at;                         // from the start of the bar, as written
    const PlacedChord* chord = nullptr;  // of the chart
    int inst = 0;                        // written chord symbols from 0 in written order, no-chords counted
    // It was struck before the bar that is repeated and only sounds on into it.
    bool is_carried = false;
    [[nodiscard]] Duration push() const { return is_carried ? Duration{} : chord->push; }
};

// The chords of each bar, in order of place. A repeated bar has those of the bar that it stands for, the one
// that sounds on into that bar first, and none that lies behind its own end. Throws TooMuchToPlay.
[[nodiscard]] std::vector<std::vector<SoundingChord>> sounding_bars(const std::vector<WrittenBar>& bars);

// Where a chord is struck that is written at `written`: earlier by its push, unless that would be before the
// beginning or not behind the place where the chord before it is struck.
[[nodiscard]] Position struck_at(Position written, Duration push, const std::optional<Position>& before);

struct ShareOfTime {
    Position at;
    Duration length;
    bool is_parted = false;  // others have the same place
};
// Chords that are struck at one place share the time up to the next place, or to the `end`, in equal parts.
// The places are in order.
[[nodiscard]] std::vector<ShareOfTime> part_time(const std::vector<Position>& struck, Position end);

struct PlacedMelodyNote {
    Position at;  // from the start of the tune
    Duration length;
    Pitch pitch;
};

// The notes of a melody as they sound, bar after bar: a note that is tied to the next of its pitch is one
// with it.
class TiedMelody {
  public:
    void add(const Bar& bar, Position bar_begins);
    [[nodiscard]] const std::vector<PlacedMelodyNote>& notes() const { return notes_; }

  private:
    std::vector<PlacedMelodyNote> notes_;
    bool is_open_ = false;
};

}  // namespace shedbook
