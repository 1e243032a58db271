// What a line measures: how large its steps are, how often it turns, how it meets the chords, how its phrases
// breathe. The same figures were taken of solos that players really played (melody_figures.toml), so that a
// composed line can be held beside them.
//
//     Figures figures;
//     RhythmMeter{ground}.measure(notes, figures);
//     figures[Figure::Density];                                // notes in a bar
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "beat_ground.h"
#include "shedbook/base/enum_table.h"

namespace shedbook {

struct TickNote {
    int on = 0;
    int end = 0;
    int pitch = 60;
};

// In the order of the file of figures.
enum class Figure : std::int8_t {
    IntervalShape,
    Semitone,
    WholeTone,
    Steps,
    Thirds,
    Fourths,
    Large,
    Repeats,
    MaxLeap,
    Recover,
    RunMean,
    RunOne,
    RunFour,
    RunMax,
    Up,
    UpStep,
    DownStep,
    TurnCorrelation,
    TurnVariety,
    Arpeggio,
    ToneStrong,
    ToneWeak,
    ToneOff,
    ToneLift,
    ChangeTone,
    ChangeGuide,
    ChangeNear,
    Outside,
    Unresolved,
    PhraseNotes,
    PhraseBeats,
    PhraseSpread,
    Rests,
    PhraseMax,
    StartOne,
    StartOff,
    EndOff,
    Density,
    RhythmVariety,
    RhythmTop,
    RhythmPrevious,
    Syncopation,
    OffBeat,
    ValueVariety,
    Eighths,
    Fast,
    Again4,
    AgainExact,
    AgainTransposed,
    AgainBar,
    Range,
    MiddleHalf,
    Drift,
    Climax,
    TopHits,
    PitchVariety,
};
inline constexpr int kFigures = static_cast<int>(count_of<Figure>());
// Short names, as the file of figures has them.
[[nodiscard]] std::string_view name_of(Figure figure);

inline constexpr int kIntervalBins = 27;                  // -13 and less ... 13 and more
using IntervalShape = std::array<double, kIntervalBins>;  // shares, sum 1

// n log2 n, for entropies of counts.
[[nodiscard]] double n_log_n(int n);
// Instead of an interval, where a phrase ends.
inline constexpr int kNoMove = 1000;

class Figures {
  public:
    double& operator[](Figure figure) { return values_[static_cast<std::size_t>(figure)]; }
    double operator[](Figure figure) const { return values_[static_cast<std::size_t>(figure)]; }
    [[nodiscard]] bool has(Figure figure) const { return (*this)[figure] > -1e8; }
    void clear(Figure figure) { (*this)[figure] = -1e9; }

  private:
    std::array<double, kFigures> values_{};
};

// The figures of phrases and rhythm, from onsets and ends alone.
class RhythmMeter {
  public:
    explicit RhythmMeter(const BeatGround& ground) : ground_{&ground} {}
    void measure(const std::vector<TickNote>& notes, Figures& out);

  private:
    void measure_phrases(const std::vector<TickNote>& notes, Figures& out) const;
    void measure_values(const std::vector<TickNote>& notes, Figures& out) const;
    void measure_bars(const std::vector<TickNote>& notes, Figures& out);

    const BeatGround* ground_;
    std::vector<std::uint32_t> patterns_;
    std::vector<std::uint32_t> sorted_;
};

// The figures of pitch, for one rhythm: what follows from the rhythm is worked out once.
class PitchMeter {
  public:
    // What is measured together, the dearest last.
    enum class Aspect : std::uint8_t { Moves, Tones, Register, Outside, Again };

    PitchMeter(const BeatGround& ground, const std::vector<TickNote>& notes, const IntervalShape& usual);
    // The moves of a line are measured before what is heard again in it.
    void measure(Aspect aspect, const std::vector<int>& pitches, Figures& out);

    // The phrase goes on from note i to the next.
    [[nodiscard]] bool goes_on(std::size_t i) const { return goes_on_[i] != 0; }
    // Of the line measured last: turns of four intervals heard a third time and more.
    [[nodiscard]] int stale_turns() const { return stale_; }

  private:
    struct Change {  // of chord: which note meets it
        int note;
        int chord;
        bool linked;
    };
    struct Span {  // notes [first, end) over chords alike in a row
        std::size_t first;
        std::size_t end;
        int chord;                    // -1: none
        std::array<int, 12> notes{};  // of each sound, when last measured,
        SoundSet fits = 0xFFFU;       // and the scale of the chord that fits them best
    };
    void prepare_chords(const std::vector<TickNote>& notes);
    void prepare_changes(const std::vector<TickNote>& notes);
    void prepare_spans();
    void measure_moves(const std::vector<int>& pitches, Figures& out);
    void measure_shape(Figures& out) const;
    void measure_runs(Figures& out);
    void measure_tones(const std::vector<int>& pitches, Figures& out) const;
    [[nodiscard]] SoundSet best_fitting(const Span& span) const;
    void measure_outside(const std::vector<int>& pitches, Figures& out);
    void measure_again(const std::vector<int>& pitches, Figures& out);
    void measure_turns(Figures& out);
    void measure_passages(const std::vector<int>& pitches, Figures& out);
    void measure_bars(const std::vector<int>& pitches, Figures& out);
    void measure_register(const std::vector<int>& pitches, Figures& out) const;
    int longest_again(const std::vector<std::uint32_t>& tokens);

    const BeatGround* ground_;
    IntervalShape usual_;
    std::size_t count_;
    std::vector<std::int8_t> goes_on_;
    std::vector<int> chord_of_;  // by onset; -1: none
    std::vector<int> group_of_;  // the same, chords alike in a row being one
    std::vector<int> place_;     // 0 beats 1 and 3, 1 beats 2 and 4, 2 off the beat
    std::vector<int> bar_of_;
    std::vector<int> apart_;  // ticks to the next onset, 8 beats at most
    std::vector<int> in_bar_;
    std::vector<int> onset_;
    std::vector<Change> changes_;
    std::vector<Span> spans_;
    std::vector<std::array<double, 12>> lift_;  // by meaning: own tone less the share of other chords
    bool has_lift_ = false;
    // working space
    std::vector<int> moves_;  // to the next note; kNoMove behind the last of a phrase
    std::array<int, kIntervalBins> histogram_{};
    std::vector<std::int8_t> inside_;
    std::vector<std::uint32_t> tokens_;
    std::vector<int> latest_;
    std::vector<int> before_;
    std::vector<std::uint32_t> table_;  // a power of two of places, three in four free
    unsigned table_shift_ = 26;         // from a hash to a place in it
    std::vector<std::uint64_t> bar_keys_;
    std::vector<int> times_;
    int stale_ = 0;
};

}  // namespace shedbook
