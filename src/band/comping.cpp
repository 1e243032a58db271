#include <algorithm>

#include "shedbook/band/accompaniment.h"
#include "shedbook/band/beats.h"
#include "voicings.h"

namespace shedbook {
namespace {

// A chord sounds no longer than this many beats: it marks the time, it does not lie under the line.
constexpr Rational kLongestInBeats{3, 2};

struct Hit {
    Position at;
    Duration length;
    std::size_t chord = 0;
};

// In the rhythm of the meter; a chord that the rhythm would pass over, or leave less than a beat before the
// next, sounds where it begins.
class Rhythm {
  public:
    Rhythm(std::span<const BandChord> chords, std::span<const BandBar> bars) : chords_{chords}, bars_{bars} {}

    std::vector<Hit> make() {
        for (const BandBar& bar : bars_) add_bar(bar);
        for (std::size_t i = 0; i < out_.size(); ++i) {
            if (i + 1 < out_.size()) out_[i].length = std::min(out_[i].length, out_[i + 1].at - out_[i].at);
        }
        return std::move(out_);
    }

  private:
    [[nodiscard]] Position end_of(std::size_t chord) const {
        return chords_[chord].at + chords_[chord].length;
    }

    void add_bar(const BandBar& bar) {
        const Position end = bar.at + bar.length;
        const Duration beat = std::max(bar.meter.beat_length(), kQuarter);
        const std::vector<Position> places = placed_in(bar, comping_places(bar.meter));
        for (; chord_ < chords_.size() && chords_[chord_].at < end; ++chord_) {
            add_chord(bar, places, beat);
            if (end_of(chord_) > end) break;  // goes on in the next bar
        }
    }

    void add_chord(const BandBar& bar, const std::vector<Position>& places, Duration beat) {
        const BandChord& chord = chords_[chord_];
        if (!chord.symbol || chord.length <= Duration{}) return;
        const Position from = std::max(chord.at, bar.at);
        const Position to = std::min(end_of(chord_), bar.at + bar.length);
        const bool changes_after = to < bar.at + bar.length;
        const std::size_t before = out_.size();
        for (const Position at : places) {
            const bool is_inside = at >= from && at < to;
            const bool is_late = changes_after && at > from && to - at < beat;
            if (is_inside && !is_late) hit(at, beat, to);
        }
        const bool is_new = chord.at >= bar.at;
        if (is_new && out_.size() == before) hit(from, beat, to);
    }

    void hit(Position at, Duration beat, Position to) {
        out_.push_back({at, std::min(beat * kLongestInBeats, to - at), chord_});
    }

    std::span<const BandChord> chords_;
    std::span<const BandBar> bars_;
    std::vector<Hit> out_;
    std::size_t chord_ = 0;
};

}  // namespace

std::vector<BandNote> comping(std::span<const BandChord> chords, std::span<const BandBar> bars) {
    const std::vector<Hit> hits = Rhythm{chords, bars}.make();
    std::vector<std::vector<Placed>> choices;
    choices.reserve(hits.size());
    for (const Hit& hit : hits)
        choices.push_back(
            placed_voicings(comping_tones(*chords[hit.chord].symbol), {kCompingLowest, kCompingHighest}));
    const std::vector<Voicing> played = lead_voices(choices);
    std::vector<BandNote> out;
    for (std::size_t i = 0; i < hits.size(); ++i) {
        for (const int key : played[i]) out.push_back({hits[i].at, hits[i].length, key});
    }
    return out;
}

}  // namespace shedbook
