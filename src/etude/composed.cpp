// The composed etude: character, then rhythm, then pitches, in sections of about thirty-two bars.
#include <algorithm>
#include <cmath>

#include "character.h"
#include "lines.h"
#include "melody.h"
#include "rhythm.h"
#include "spelling.h"

namespace shedbook {
namespace {

constexpr std::size_t kSection = 32;  // bars
constexpr int kDraws = 24;            // characters to choose from by level

// What each level may ask, 1 to 6.
struct LevelLimits {
    int most_in_a_beat;
    int largest_leap;
    int span;  // semitones of the range
    bool may_leave_scale;
    double demand;  // -1 the easiest of all characters, 0 as it comes, 1 the hardest
};
constexpr std::array<LevelLimits, kHighestLevel> kLevels{{
    {1, 7, 14, false, -1.0},
    {2, 9, 17, false, -0.7},
    {3, 12, 21, true, -0.4},
    {4, 12, 99, true, 0.0},
    {4, 12, 99, true, 0.4},
    {4, 12, 99, true, 0.8},
}};

double changes_in_a_bar(const EtudeGround& ground) {
    int changes = 0;
    const ScaleSpan* before = nullptr;
    for (const ScaleSpan& span : ground.spans) {
        if (before != nullptr && span.symbol != before->symbol) ++changes;
        before = &span;
    }
    return static_cast<double>(changes) / static_cast<double>(std::max<std::size_t>(1, ground.bars.size()));
}

// Among many characters the one whose demand fits: `place` -1 the least, 1 the most, 0 the first as it came.
Character choose(const std::vector<Character>& drawn, double place) {
    std::vector<std::size_t> order(drawn.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::ranges::stable_sort(order, {}, [&](std::size_t i) { return demand(drawn[i]); });
    const auto first = static_cast<double>(std::ranges::find(order, 0U) - order.begin());
    const double last = static_cast<double>(order.size()) - 1;
    const double wanted = place < 0 ? first * (1 + place) : first + (last - first) * place;
    return drawn[order[static_cast<std::size_t>(std::lround(std::clamp(wanted, 0.0, last)))]];
}

class Composer {
  public:
    Composer(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : ground_{ground},
          request_{request},
          limits_{kLevels[static_cast<std::size_t>(request.level - 1)]},
          dice_{request.seed * 0x9E3779B97F4A7C15ULL + 0x5EED} {
        const int low = range.low.midi();
        const int high = range.high.midi();
        const int cut = std::max(0, high - low - limits_.span);
        low_ = low + cut / 2;
        high_ = high - (cut - cut / 2);
    }

    ConcertLine compose() {
        line_.length = ground_.length;
        const std::size_t bars = ground_.bars.size();
        const std::vector<Character> drawn = draw_characters(dice_, changes_in_a_bar(ground_), kDraws);
        for (std::size_t first = 0; first < bars;) {
            // A rest of fewer than twelve bars belongs to the section before it.
            std::size_t last = std::min(first + kSection, bars);
            if (bars - last < 12) last = bars;
            const double grown =
                request_.choruses > 1 ? 0.6 * static_cast<double>(first) / static_cast<double>(bars) : 0;
            const double density = request_.density == Density::Usual  ? 0
                                   : request_.density == Density::Busy ? 0.6
                                                                       : -0.6;
            const double place = std::clamp(limits_.demand + density + grown, -1.0, 1.0);
            add_section(first, last, choose(drawn, place));
            first = last;
        }
        return std::move(line_);
    }

  private:
    void add_section(std::size_t first, std::size_t last, const Character& character) {
        const BeatGround beats = beat_ground(ground_, first, last, request_.feel == EtudeFeel::Triplets);
        const FigureWindow& window = window_for(static_cast<int>(last - first));
        const Figures aims = aims_of(character, window);
        RhythmSearch rhythm{
            beats, aims, window, {limits_.most_in_a_beat, last == ground_.bars.size()}, dice_};
        std::vector<TickNote> notes = rhythm.find();
        MelodyOptions options;
        options.low = low_;
        options.high = high_;
        options.largest_leap = limits_.largest_leap;
        options.may_leave_scale = limits_.may_leave_scale;
        options.motif_at = rhythm.motif_at();
        options.motif_length = rhythm.motif_length();
        MelodySearch melody{beats, notes, aims, window, options, dice_};
        const std::vector<int> pitches = melody.find();
        write(beats, notes, pitches, melody);
    }

    void write(const BeatGround& beats, const std::vector<TickNote>& notes, const std::vector<int>& pitches,
               const MelodySearch& melody) {
        std::vector<Pitch> spelled(pitches.size());
        for (std::size_t i = pitches.size(); i-- > 0;) {
            const BeatChord& chord = beats.chords[static_cast<std::size_t>(melody.heard_chord(i))];
            const auto name = scale_name(*chord.span, pitches[i]);
            const std::size_t to = name ? 0 : melody.resolution(i);
            spelled[i] = name     ? pitch_of(*name, pitches[i])
                         : to > 0 ? leading_to(spelled[to], pitches[i])
                                  : pitch_of(simplest_name(pitches[i] % 12), pitches[i]);
        }
        for (std::size_t i = 0; i < notes.size(); ++i) {
            const Position at = beats.position(notes[i].on);
            line_.notes.push_back({spelled[i], at, beats.position(notes[i].end) - at});
            const bool ends = i + 1 < notes.size() && notes[i + 1].on - notes[i].end >= kBeatTicks;
            if (ends) line_.breaths.push_back(beats.position(notes[i].end));
        }
    }

    const EtudeGround& ground_;
    const EtudeRequest& request_;
    LevelLimits limits_;
    Dice dice_;
    int low_ = 0;
    int high_ = 0;
    ConcertLine line_;
};

}  // namespace

ConcertLine composed_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return Composer{ground, request, range}.compose();
}

}  // namespace shedbook
