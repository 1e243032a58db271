// The rhythm of a composed etude: phrases and breaths first, then what happens in each beat, from a
// vocabulary of beats with the frequencies that players give them.
//
//     std::vector<TickNote> notes = RhythmSearch{ground, aims, window, dice}.find();
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "character.h"

namespace shedbook {

struct BeatPattern {
    std::int8_t count = 0;
    std::array<std::int8_t, 4> onsets{};  // ticks
    double share = 0;                     // of beats within phrases
};
[[nodiscard]] std::span<const BeatPattern> beat_patterns(Beat::Division division);

struct RhythmOptions {
    int most_in_a_beat = 4;  // notes
    bool ends = true;        // the last bar comes to rest
};

class RhythmSearch {
  public:
    RhythmSearch(const BeatGround& ground, const Figures& aims, const FigureWindow& window,
                 const RhythmOptions& options, Dice& dice);
    // Pitches are left open.
    [[nodiscard]] std::vector<TickNote> find();
    // Where the motif begins again, in ticks, and how long it is; the first is where it comes first.
    [[nodiscard]] const std::vector<int>& motif_at() const { return motif_at_; }
    [[nodiscard]] int motif_length() const { return motif_length_; }

  private:
    struct Filling {  // of a beat
        std::int8_t pattern = 0;
        bool silent = false;  // what sounds from before ends where the beat begins
        friend bool operator==(const Filling&, const Filling&) = default;
    };
    void begin();
    void plant_motif();
    void fill(std::size_t beat, Filling filling);
    [[nodiscard]] Filling any_filling(std::size_t beat);
    [[nodiscard]] bool may_change(std::size_t beat) const { return locked_[beat] == 0; }
    void propose();
    void write_notes();
    double cost();
    void note_change(std::size_t beat) { changed_.emplace_back(beat, beats_[beat]); }

    const BeatGround& ground_;
    const Figures& aims_;
    const FigureWindow& window_;
    RhythmOptions options_;
    Dice& dice_;
    RhythmMeter meter_;
    std::vector<Filling> beats_;
    std::vector<std::int8_t> locked_;
    std::vector<int> partner_;  // beats that move together: the next of the ring
    std::vector<std::pair<std::size_t, Filling>> changed_;
    std::vector<TickNote> notes_;
    std::vector<int> motif_at_;
    int motif_length_ = 0;
};

}  // namespace shedbook
