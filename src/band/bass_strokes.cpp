#include "bass_strokes.h"

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "dealt.h"
#include "figures.h"
#include "pushes.h"
#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

constexpr char kSkip = 's';
constexpr char kBass = 'R';

class BassFigures {
  public:
    explicit BassFigures(const RhythmSection& band) : band_{band}, chance_{band.seed * 2654435761U + 17U} {}

    // What is played in a part of a bar.
    const Strokes& choose(const FormPlace& place, const BarPart& part) {
        const BandChorus chorus = chorus_of(band_, place);
        const BassPulse pulse = chorus.pulse;
        const std::vector<BandFigure>& figures = bass_figures(band_.style, pulse, part);
        static const Strokes kWhole{{{}, {}, 'w'}};
        if (figures.empty()) return kWhole;
        const int full = has_walking_bass(band_.style) ? kUsual : chorus.full;
        const Key key{pulse, part.length, part.in_threes, full};
        if (has_walking_bass(band_.style)) return figures[deal(key, figures)].strokes;
        // The fourth bar of a groove, and the last of a section, may do something else.
        const bool is_turn = place.bar % 4 == 3 || place.ends_section;
        const auto [groove, is_new] = grooves_.try_emplace({key, place.section}, 0);
        if (is_new) groove->second = deal(key, figures);
        return figures[is_turn ? deal(key, figures) : groove->second].strokes;
    }

  private:
    using Key = std::tuple<BassPulse, Duration, bool, int>;
    static constexpr int kUsual = 2;

    std::size_t deal(const Key& key, const std::vector<BandFigure>& figures) {
        const auto found = packs_.find(key);
        if (found != packs_.end()) return found->second.deal();
        // Of the figures of a dance the half with fewer notes at first, the other half in a full chorus.
        std::vector<std::size_t> counts(figures.size());
        std::ranges::transform(figures, counts.begin(),
                               [](const BandFigure& figure) { return figure.strokes.size(); });
        std::ranges::sort(counts);
        const std::size_t middle = counts[counts.size() / 2];
        const int full = std::get<int>(key);
        std::vector<std::pair<std::size_t, int>> kinds;
        for (std::size_t i = 0; i < figures.size(); ++i) {
            const std::size_t count = figures[i].strokes.size();
            const bool fits = full == kUsual || (full < kUsual ? count <= middle : count >= middle);
            if (fits) kinds.emplace_back(i, figures[i].share);
        }
        return packs_.emplace(key, Pack<std::size_t>{std::move(kinds), chance_}).first->second.deal();
    }

    const RhythmSection& band_;
    Chance chance_;
    std::map<Key, Pack<std::size_t>> packs_;
    std::map<std::pair<Key, std::size_t>, std::size_t> grooves_;
};

class Laying {
  public:
    Laying(const RhythmSection& band, const std::vector<FormPlace>& places)
        : band_{band}, places_{places}, pushes_{pushes(band, places)}, figures_{band} {}

    std::vector<BassStroke> make() {
        for (bar_ = 0; bar_ < band_.bars.size(); ++bar_) lay_bar();
        lay_own_pushes();
        add_changes_passed_over();
        drop_after_early_changes();
        mark_changes();
        set_lengths();
        return std::move(out_);
    }

  private:
    void lay_bar() {
        const BandBar& bar = band_.bars[bar_];
        const Duration missing = std::max(Duration{}, bar.meter.bar_length() - bar.length);
        for (const BarPart& part : parts_of(bar.meter)) {
            for (const Stroke& stroke : figures_.choose(places_[bar_], part)) {
                const Duration from = part.at + stroke.at;
                if (from < missing || from - missing >= bar.length) continue;
                add(bar.at + (from - missing), stroke);
            }
        }
    }

    void add(Position at, const Stroke& stroke) {
        const std::optional<std::size_t> chord = chord_number_at(band_.chords, at);
        if (!chord) return;
        out_.push_back({at, stroke.length, stroke.sign, *chord, bar_, false});
    }

    // The first note of the bar is early, and tied over the barline.
    void lay_own_pushes() {
        for (const Push& push : pushes_) {
            if (push.is_written) continue;
            std::erase_if(out_, [&](const BassStroke& stroke) {
                return push.at <= stroke.at && stroke.at <= push.at + kEighth;
            });
            const auto bar = std::ranges::upper_bound(band_.bars, push.at, {}, &BandBar::at) - 1;
            go_on_in(static_cast<std::size_t>(bar - band_.bars.begin()) + 1);
            out_.insert(std::ranges::upper_bound(out_, push.at, {}, &BassStroke::at),
                        {push.at, kEighth, kEarlyBass, push.chord,
                         static_cast<std::size_t>(bar - band_.bars.begin()), false});
        }
    }

    // A bar that has lost its only note has another one in its middle: else nobody hears how it goes on.
    void go_on_in(std::size_t number) {
        const BandBar& bar = band_.bars[number];
        const Position last = bar.at + bar.length - kEighth;
        if (std::ranges::any_of(
                out_, [&](const BassStroke& stroke) { return bar.at <= stroke.at && stroke.at < last; }))
            return;
        const std::vector<Position> beats = placed_in(bar, bass_places(bar.meter, BassFeel::Walking));
        const Position at = beats[beats.size() / 2];
        const std::optional<std::size_t> chord = chord_number_at(band_.chords, at);
        if (chord)
            out_.insert(std::ranges::upper_bound(out_, at, {}, &BassStroke::at),
                        {at, last - at, '5', *chord, number, false});
    }

    void add_changes_passed_over() {
        for (std::size_t i = 0; i < band_.chords.size(); ++i) {
            const BandChord& chord = band_.chords[i];
            if (!chord.symbol || chord.length <= Duration{}) continue;
            const bool is_there = std::ranges::any_of(out_, [&](const BassStroke& stroke) {
                return stroke.at == chord.at || (stroke.sign == kEarlyBass && stroke.chord == i);
            });
            const auto bar = std::ranges::upper_bound(band_.bars, chord.at, {}, &BandBar::at);
            if (is_there || bar == band_.bars.begin()) continue;
            out_.push_back({chord.at, chord.length, kBass, i,
                            static_cast<std::size_t>(bar - band_.bars.begin()) - 1, false});
        }
        std::ranges::stable_sort(out_, {}, &BassStroke::at);
    }

    [[nodiscard]] bool is_at(const BassStroke& stroke, const std::vector<Position>& places) const {
        const std::vector<Position> here = placed_in(band_.bars[stroke.bar], places);
        return std::ranges::find(here, stroke.at) != here.end();
    }

    // A change before the beat takes the place of the note on it; in two, one before a strong beat does.
    void drop_after_early_changes() {
        std::vector<BassStroke> kept;
        for (const BassStroke& stroke : out_) {
            const bool begins = band_.chords[stroke.chord].at == stroke.at;
            if (!kept.empty() && !begins && takes_place_of(kept.back(), stroke)) continue;
            kept.push_back(stroke);
        }
        out_ = std::move(kept);
    }

    [[nodiscard]] bool takes_place_of(const BassStroke& last, const BassStroke& stroke) const {
        if (band_.chords[last.chord].at != last.at) return false;
        const Meter& meter = band_.bars[last.bar].meter;
        const Duration away = stroke.at - last.at;
        const bool is_in_two =
            has_walking_bass(band_.style) && chorus_of(band_, places_[last.bar]).pulse == BassPulse::Two;
        if (is_in_two && !is_at(last, group_places(meter))) return away <= meter.beat_length();
        return away < std::max(kQuarter, meter.beat_length()) &&
               !is_at(last, bass_places(meter, BassFeel::Walking));
    }

    // On a change stands its bass; a skip repeats what went before, and that is another chord's. What the
    // chart pushes is held.
    void mark_changes() {
        std::optional<std::size_t> last;
        for (BassStroke& stroke : out_) {
            stroke.is_change = stroke.chord != last;
            if (stroke.is_change && stroke.sign != kEarlyBass) stroke.sign = stroke.sign == 'w' ? 'w' : kBass;
            const bool is_push = std::ranges::any_of(pushes_, [&](const Push& push) {
                return push.is_written && push.at == stroke.at && push.chord == stroke.chord;
            });
            if (is_push) stroke.length = {};
            last = stroke.chord;
        }
    }

    void set_lengths() {
        for (std::size_t i = 0; i < out_.size(); ++i) {
            BassStroke& stroke = out_[i];
            const BandChord& chord = band_.chords[stroke.chord];
            Position end = chord.at + chord.length;
            for (std::size_t k = stroke.chord + 1; k < band_.chords.size() && band_.chords[k].symbol; ++k) {
                if (band_.chords[k].at != end || end - stroke.at > kWhole) break;
                end += band_.chords[k].length;
            }
            if (i + 1 < out_.size()) end = std::min(end, out_[i + 1].at);
            const bool holds = stroke.sign == 'w' || stroke.sign == kEarlyBass || stroke.length <= Duration{};
            stroke.length = holds ? end - stroke.at : std::min(stroke.length, end - stroke.at);
        }
        std::erase_if(out_, [](const BassStroke& stroke) {
            return stroke.length <= Duration{} && stroke.sign == kSkip;
        });
    }

    const RhythmSection& band_;
    const std::vector<FormPlace>& places_;
    std::vector<Push> pushes_;
    BassFigures figures_;
    std::vector<BassStroke> out_;
    std::size_t bar_ = 0;
};

}  // namespace

std::vector<BassStroke> bass_strokes(const RhythmSection& band, const std::vector<FormPlace>& places) {
    return Laying{band, places}.make();
}

}  // namespace shedbook
