// The rhythm of a composed etude: phrases and breaths first, then what happens in each beat, from a
// vocabulary of beats with the frequencies that players give them.
//
//     std::vector<TickNote> notes = RhythmSearch{ground, aims, window, style, {}, dice}.find();
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "character.h"
#include "melody_weights.h"
#include "style.h"

namespace shedbook {

struct RhythmOptions {
    Duration finest = Duration{Rational{1, 16}};  // value: nothing that is written finer
    bool ties = true;                             // over bar lines
    bool one_note_a_chord = false;                // where chords last two beats or less
    bool ends = true;                             // the last chord comes to rest
    int silent_before = 0;                        // ticks of rest that it goes on from
    double plain = 0;                             // how far phrases are whole, 0 to 1
    bool is_one_phrase = false;                   // a few bars: no rest within it
};

// A note sounds in the time of a chord, or is struck half a beat before it and held into it.
[[nodiscard]] inline bool is_heard(const ChordDuty& chord, const TickNote& note) {
    constexpr int kHalfBeat = kBeatTicks / 2;
    return note.on < chord.end && note.end > chord.start &&
           (note.on >= chord.start - kHalfBeat || note.end - chord.start >= kHalfBeat);
}

class RhythmSearch {
  public:
    RhythmSearch(const BeatGround& ground, const Figures& aims, const FigureWindow& window,
                 const EtudeStyleRow& style, const RhythmOptions& options, Dice& dice);
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
    void choose_patterns(const EtudeStyleRow& style);
    void begin();
    void plan_end();
    void mend();
    void plant_motif();
    void fill(std::size_t beat, Filling filling);
    [[nodiscard]] Filling any_filling(std::size_t beat);
    [[nodiscard]] bool may_change(std::size_t beat) const { return locked_[beat] == 0; }
    [[nodiscard]] const BeatPattern& pattern_of(std::size_t beat) const {
        return patterns_[static_cast<std::size_t>(ground_.beats[beat].division)]
                        [static_cast<std::size_t>(beats_[beat].pattern)];
    }
    [[nodiscard]] bool suits(std::size_t beat, Filling filling) const;
    [[nodiscard]] double silence_cost() const;
    [[nodiscard]] double phrase_cost() const;
    [[nodiscard]] double held_over_cost() const;
    [[nodiscard]] bool is_thin(const ChordDuty& chord, std::size_t first) const;
    [[nodiscard]] bool is_met(const BeatChord& chord) const;
    void propose();
    [[nodiscard]] bool changes_nothing() const;
    void write_notes();
    void cut_at_changes();
    // Of the rhythm as it stands; once it is known to be above `most`, no more is measured.
    double cost(double most = kAnyCost);
    void note_change(std::size_t beat) { changed_.emplace_back(beat, beats_[beat]); }

    const BeatGround& ground_;
    const Figures& aims_;
    const FigureWindow& window_;
    double figures_;        // how much they count,
    double beats_figures_;  // and those of single beats
    double held_over_;
    RhythmOptions options_;
    Dice& dice_;
    RhythmMeter meter_;
    // By division: first the beat in which nothing begins, then the one of a single note on it.
    std::array<std::vector<BeatPattern>, 3> patterns_;
    std::vector<std::int8_t> is_plain_;  // beats of chords of less than two beats: nothing finer than eighths
    std::vector<std::int8_t> starts_bar_;
    std::vector<ChordDuty> duties_;
    int longest_rest_ = 0;  // ticks: a whole note
    std::vector<Filling> beats_;
    std::vector<std::int8_t> locked_;
    std::vector<int> partner_;  // beats that move together: the next of the ring
    std::vector<std::pair<std::size_t, Filling>> changed_;
    std::vector<TickNote> notes_;
    std::vector<int> motif_at_;
    int motif_length_ = 0;
};

}  // namespace shedbook
