#include "pushes.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "dealt.h"
#include "figures.h"
#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

constexpr std::size_t kPhraseBars = 4;

std::vector<Push> written_pushes(const RhythmSection& band) {
    std::vector<Push> out;
    for (std::size_t i = 0; i < band.chords.size(); ++i) {
        const BandChord& chord = band.chords[i];
        const auto after = std::ranges::upper_bound(band.bars, chord.at, {}, &BandBar::at);
        if (!chord.symbol || chord.length < kEighth || after == band.bars.begin()) continue;
        const BandBar& bar = *(after - 1);
        const std::vector<Position> beats = placed_in(bar, bass_places(bar.meter, BassFeel::Walking));
        const auto is_beat = [&](Position at) { return std::ranges::find(beats, at) != beats.end(); };
        const Position due = chord.at + kEighth;
        if (!is_beat(chord.at) && (is_beat(due) || due == bar.at + bar.length))
            out.push_back({chord.at, i, true});
    }
    return out;
}

// Into which bars of a dance the band comes early: in so many phrases of four into one, and never into the
// first of a section, or nobody hears any more where that is. Common practice, no source.
class OwnPushes {
  public:
    OwnPushes(const RhythmSection& band, const std::vector<FormPlace>& places, std::vector<Push> written)
        : band_{band}, places_{places}, written_{std::move(written)}, chance_{band.seed * 134775813U + 7U} {}

    std::vector<Push> make() {
        const int phrases = pushed_phrases(band_.style);
        if (phrases == 0) return {};
        Pack<bool> has_push{{{true, phrases}, {false, kOfPhrases - phrases}}, chance_};
        for (std::size_t from = 0; from < places_.size();) {
            std::size_t to = from + 1;
            while (to < places_.size() && is_one_phrase(from, to)) ++to;
            if (has_push.deal()) push_in(from, to);
            from = to;
        }
        return std::move(out_);
    }

  private:
    [[nodiscard]] bool is_one_phrase(std::size_t a, std::size_t b) const {
        return places_[a].section == places_[b].section &&
               places_[a].bar / kPhraseBars == places_[b].bar / kPhraseBars;
    }

    // Rather into a new chord than into the same one once more.
    void push_in(std::size_t from, std::size_t to) {
        std::vector<Push> some;
        bool has_new = false;
        for (std::size_t bar = from; bar < to; ++bar) {
            const std::optional<Push> push = push_into(bar);
            if (!push) continue;
            const bool is_new = band_.chords[push->chord].at == band_.bars[bar].at;
            if (is_new && !has_new) some.clear();
            has_new |= is_new;
            if (is_new == has_new) some.push_back(*push);
        }
        if (!some.empty())
            out_.push_back(some[static_cast<std::size_t>(chance_.below(static_cast<int>(some.size())))]);
    }

    [[nodiscard]] std::optional<Push> push_into(std::size_t which) const {
        if (which == 0 || places_[which].bar == 0) return std::nullopt;
        const BandBar& bar = band_.bars[which];
        const Duration apart = bar.meter.bar_length() * Rational{3};
        const Push out{bar.at - kEighth, 0, false};
        // What goes by groups, as 7/8, or comes to another meter, is hard enough to follow.
        const BandBar& before_it = band_.bars[which - 1];
        const bool is_plain = parts_of(bar.meter).size() == 1 && bar.length == bar.meter.bar_length();
        if (!is_plain || before_it.length != bar.length || !(before_it.meter == bar.meter))
            return std::nullopt;
        if (!out_.empty() && out.at - out_.back().at < apart) return std::nullopt;
        if (band_.ending && band_.ending->at <= bar.at) return std::nullopt;
        const bool is_near_another = std::ranges::any_of(
            written_, [&](const Push& push) { return push.at > out.at - apart && push.at < out.at + apart; });
        const auto before = chord_number_at(band_.chords, out.at);
        const auto after = chord_number_at(band_.chords, bar.at);
        // A chord between this note and the bar would be passed over.
        const bool is_next = before && after && *after <= *before + 1;
        if (is_near_another || !is_next || band_.chords[*before].at >= out.at) return std::nullopt;
        return Push{out.at, *after, false};
    }

    const RhythmSection& band_;
    const std::vector<FormPlace>& places_;
    std::vector<Push> written_;
    Chance chance_;
    std::vector<Push> out_;
};

}  // namespace

std::vector<Push> pushes(const RhythmSection& band, const std::vector<FormPlace>& places) {
    std::vector<Push> out = written_pushes(band);
    const std::vector<Push> own = OwnPushes{band, places, out}.make();
    out.insert(out.end(), own.begin(), own.end());
    std::ranges::sort(out, {}, &Push::at);
    return out;
}

}  // namespace shedbook
