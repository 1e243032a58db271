// The pitches of a composed etude for a given rhythm. First a line of scale notes, drawn exactly from all
// lines by their chance (sums forward, draws backward, over a lattice of pitches); then it is revised, a few
// notes at a time, until it measures what its character aims at. No revision may leave a note outside the
// scale that does not resolve.
//
//     MelodySearch search{ground, notes, aims, window, {.low = 58, .high = 88}, dice};
//     std::vector<int> pitches = search.find();
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "character.h"
#include "chord_statement.h"
#include "levels.h"
#include "rhythm.h"

namespace shedbook {

inline constexpr int kWidest = kWidestLine;  // semitones

struct MelodyOptions {
    int low = 58;  // key numbers
    int high = 88;
    int largest_leap = 12;
    bool may_leave_scale = true;
    bool outside_on_beat = true;         // a note outside the scale may be on a beat
    bool outside_on_change = true;       // or on the first beat of a bar or chord
    bool scale_only = false;             // no chord tone that the scale has not
    bool says_thirds = false;            // a dominant of two beats and more has its third, whatever it costs
    double off_tone = 0;                 // cost of a note on a beat that is no chord tone
    double figures = 1;                  // how much the figures count
    double plain = 0;                    // how far it keeps to the chords, 0 as players do, 1 strictly
    std::optional<int> before = {};      // the note just before, where the phrase goes on from it
    std::vector<int> motif_at = {};      // ticks: where the motif begins, first and again
    int motif_length = 0;                // ticks
    const Handling* handling = nullptr;  // of the instrument
    double seconds_a_beat = 0.5;
};

class MelodySearch {
  public:
    MelodySearch(const BeatGround& ground, const std::vector<TickNote>& notes, const Figures& aims,
                 const FigureWindow& window, const MelodyOptions& options, Dice& dice);
    [[nodiscard]] std::vector<int> find();

    // The note lies in the scale of the chord that it is heard with: the next one if it is struck just before
    // the change and held over it.
    [[nodiscard]] bool in_scale(std::size_t i, int pitch) const { return holds(scale_[i], pitch); }
    // Where a note outside the scale resolves by step: the index of that note, 0 if it does not.
    [[nodiscard]] std::size_t resolution(std::size_t i) const;
    [[nodiscard]] int heard_chord(std::size_t i) const { return heard_[i]; }

  private:
    struct MotifPair {
        std::size_t first;  // note of the motif's first statement
        std::size_t again;
    };
    struct Duty {  // a chord to be told, by one of the notes [first, last)
        SoundSet tell;
        std::size_t first;
        std::size_t last;
        int start;  // ticks
    };
    struct Statement {  // of a chord, by the notes [first, last)
        ChordStatement says;
        std::size_t first;
        std::size_t last;
        int start;      // ticks
        bool is_short;  // less than two beats
    };
    void prepare();
    void prepare_held(std::size_t i);
    void prepare_rest(std::size_t i);
    void prepare_duties();
    void prepare_statements();
    void prepare_dominant(const BeatChord& chord, SoundSet altered, std::size_t first, std::size_t last);
    void pair_motif();
    [[nodiscard]] std::size_t width() const {
        return static_cast<std::size_t>(options_.high - options_.low + 1);
    }
    [[nodiscard]] std::vector<double> chances_of_pitches() const;
    [[nodiscard]] double chance_of_move(int move, bool joined) const;
    void draw_line();
    bool propose();
    bool approach(std::size_t i);
    bool name_a_chord();
    void take_back();
    [[nodiscard]] bool changes_nothing() const;
    void set(std::size_t i, int pitch);
    [[nodiscard]] bool is_legal() const;
    [[nodiscard]] bool is_legal(std::size_t i) const;
    [[nodiscard]] bool rests_well(std::size_t i) const;
    [[nodiscard]] bool is_told(const Duty& duty) const;
    void change_one(std::size_t first, std::size_t last, const std::function<bool()>& is_good);
    void tell(const Duty& own);
    void state(const Statement& own);
    // Of the line as it stands; once it is known to be above `most`, no more is measured.
    double cost(double most = kAnyCost);
    [[nodiscard]] double outside_cost(std::size_t i) const;
    [[nodiscard]] double style_cost() const;
    [[nodiscard]] double plain_cost() const;
    [[nodiscard]] double shape_cost() const;
    [[nodiscard]] double statement_cost(const Statement& statement) const;
    [[nodiscard]] bool passes_by_half_steps(std::size_t i) const;
    [[nodiscard]] int unstated_in(const Statement& statement) const;
    [[nodiscard]] bool is_tone(std::size_t i) const { return holds(tones_[i], pitches_[i]); }
    [[nodiscard]] double motif_cost() const;
    void prepare_names();
    [[nodiscard]] double handling_cost() const;
    [[nodiscard]] int near_in_scale(std::size_t i, int pitch, int direction) const;

    const BeatGround& ground_;
    const std::vector<TickNote>& notes_;
    const Figures& aims_;
    const FigureWindow& window_;
    MelodyOptions options_;
    Dice& dice_;
    PitchMeter meter_;
    std::vector<int> heard_;
    std::vector<SoundSet> scale_;
    std::vector<SoundSet> tones_;
    std::vector<SoundSet> avoid_;
    std::vector<SoundSet> ends_;     // to come to rest on
    std::vector<SoundSet> passing_;  // of the scale, but only on the way to the next note
    std::vector<SoundSet> never_;    // not on a beat
    [[nodiscard]] bool is_told_on_a_beat(const Duty& duty) const;
    std::vector<Duty> duties_;
    std::vector<Duty> altered_;  // chords whose altered tones are to be heard
    std::vector<Duty> thirds_;   // of dominants
    std::vector<Statement> statements_;
    std::vector<SoundSet> tense_;        // what a step leads on from
    std::vector<std::int8_t> is_plain_;  // on a beat under a chord of less than two
    std::vector<std::int8_t> is_long_;
    std::vector<std::int8_t> is_strong_;
    std::vector<std::int8_t> is_change_;  // on the first beat of a bar or a chord
    std::vector<SoundSet> foreign_third_;
    // Of sung lines: the letter of each sound in the scale of a note, -1 outside it.
    std::vector<std::array<std::int8_t, 12>> letters_;
    std::vector<int> pitches_;
    std::vector<std::pair<std::size_t, int>> changed_;
    std::vector<MotifPair> motif_;
    std::array<double, 2 * kWidest + 1> surprise_{};  // of an interval, by its size + kWidest
};

}  // namespace shedbook
