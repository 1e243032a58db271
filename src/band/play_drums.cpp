#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "dealt.h"
#include "ending.h"
#include "figures.h"
#include "form.h"
#include "pushes.h"

namespace shedbook {
namespace {

Touch touch_of(char sign) {
    return sign == 'X' ? Touch::Weight : sign == 'o' ? Touch::Soft : Touch::Plain;
}

// Of a bar.
constexpr Rational kFillsFrom{2, 5};

class Drummer {
  public:
    explicit Drummer(const RhythmSection& band)
        : band_{band}, places_{form_places(band)}, chance_{band.seed * 69069U + 1U} {}

    std::vector<DrumNote> play() {
        const bool has_chords = std::ranges::any_of(
            band_.chords, [](const BandChord& chord) { return chord.symbol.has_value(); });
        for (std::size_t i = 0; i < band_.bars.size(); ++i) play_bar(i);
        for (const Push& push : pushes(band_, places_)) strike(push);
        std::erase_if(out_, [&](const DrumNote& note) {
            if (band_.ending && note.at >= band_.ending->at) return true;
            const bool keeps_time = note.drum == Drum::HiHat || note.drum == Drum::HiHatFoot;
            return has_chords && !keeps_time && !chord_number_at(band_.chords, note.at);
        });
        for (const EndingStroke& stroke : ending_strokes(band_)) {
            const bool is_last = stroke.at + stroke.length == band_.ending->at + band_.ending->length;
            out_.push_back({stroke.at, Drum::Kick, Touch::Plain});
            if (!is_last) {
                out_.push_back({stroke.at, Drum::Snare, Touch::Plain});
            } else {
                out_.push_back({stroke.at, has_brushes(band_.style) ? Drum::Ride : Drum::Crash, Touch::Soft});
            }
        }
        std::ranges::stable_sort(out_, [](const DrumNote& a, const DrumNote& b) {
            return a.at != b.at ? a.at < b.at : a.drum < b.drum;
        });
        return std::move(out_);
    }

  private:
    void play_bar(std::size_t which) {
        const BandBar& bar = band_.bars[which];
        const FormPlace& place = places_[which];
        const int full = chorus_of(band_, place).full;
        const bool leads_to_end = band_.ending && which > 0 && band_.ending->at == bar.at + bar.length;
        const Duration missing = std::max(Duration{}, bar.meter.bar_length() - bar.length);
        const std::vector<BarPart> parts = parts_of(bar.meter);
        for (const BarPart& part : parts) {
            const bool is_first_of_many = parts.size() > 1 && part.at == Duration{};
            // In a bar of several parts the first of them go on in time.
            const bool is_end = part.at + part.length == bar.meter.bar_length() ||
                                part.at >= bar.meter.bar_length() * kFillsFrom;
            const bool is_fill = is_end && (leads_to_end || (place.ends_section && place.bar > 0));
            const DrumFigure* figure =
                is_fill ? choose_fill(part) : choose(place, part, full, is_first_of_many);
            if (figure == nullptr) continue;
            for (const auto& [drum, bars] : figure->voices) {
                for (const Stroke& stroke : bars[in_turn(which, bars.size())]) {
                    const Position at = bar.at + (part.at + stroke.at - missing);
                    if (at >= bar.at && at < bar.at + bar.length)
                        out_.push_back({at, drum, touch_of(stroke.sign)});
                }
            }
        }
        const bool begins_chorus =
            place.bar == 0 && place.chorus > 0 && which > 0 && places_[which - 1].chorus != place.chorus;
        if (begins_chorus && full > 1 && !has_brushes(band_.style)) crash(bar.at, is_last_chorus(place));
    }

    // Figures of two bars go through the whole tune in step, whatever its sections and fills, from the first
    // bar that is a whole one: else a pattern would turn round. Common practice, no source.
    [[nodiscard]] std::size_t in_turn(std::size_t bar, std::size_t of) const {
        const BandBar& first = band_.bars.front();
        const bool has_pickup = first.length < first.meter.bar_length();
        return (bar + (has_pickup ? of - 1 : 0)) % of;
    }

    // Under it is the kick.
    void crash(Position at, bool is_last) {
        out_.push_back({at, Drum::Crash, is_last ? Touch::Plain : Touch::Soft});
        const bool has_kick = std::ranges::any_of(
            out_, [&](const DrumNote& note) { return note.at == at && note.drum == Drum::Kick; });
        if (!has_kick) out_.push_back({at, Drum::Kick, Touch::Plain});
    }

    [[nodiscard]] bool is_last_chorus(const FormPlace& place) const {
        return place.chorus + 1 == band_.choruses.size();
    }

    // With bass and chords, and not again on the beat that they leave out.
    void strike(const Push& push) {
        std::erase_if(out_, [&](const DrumNote& note) {
            const bool is_struck = note.drum == Drum::Kick || (push.is_written && note.drum == Drum::Snare);
            return is_struck && push.at <= note.at && note.at <= push.at + kEighth;
        });
        out_.push_back({push.at, Drum::Kick, push.is_written ? Touch::Weight : Touch::Plain});
        if (push.is_written) out_.push_back({push.at, Drum::Snare, Touch::Weight});
    }

    const DrumFigure* choose_fill(const BarPart& part) {
        std::vector<const DrumFigure*> some;
        for (const DrumFigure& fill : drum_figures(band_.style, true, part)) {
            if (is_for_tempo(fill)) add(some, fill);
        }
        return another(std::move(some), fills_[{part.length, part.at}]);
    }

    // One of them that is not the last one, if there is any.
    const DrumFigure* another(std::vector<const DrumFigure*> some, const DrumFigure*& last) {
        const bool has_others =
            std::ranges::any_of(some, [&](const DrumFigure* each) { return each != last; });
        if (has_others) std::erase(some, last);
        if (some.empty()) return nullptr;
        last = some[static_cast<std::size_t>(chance_.below(static_cast<int>(some.size())))];
        return last;
    }

    [[nodiscard]] bool is_for_tempo(const DrumFigure& figure) const {
        return figure.from <= band_.quarters_per_minute && band_.quarters_per_minute < figure.below;
    }

    static void add(std::vector<const DrumFigure*>& some, const DrumFigure& figure) {
        some.insert(some.end(), static_cast<std::size_t>(figure.share), &figure);
    }

    // As full as the chorus; the same for three bars of a phrase of four, then another one if there is one.
    const DrumFigure* choose(const FormPlace& place, const BarPart& part, int full, bool is_first_of_many) {
        constexpr std::size_t kBars = 4;
        const auto phrase = std::tuple{place.section, place.bar / kBars, part.length, part.at};
        const DrumFigure*& last = chosen_[{part.length, part.at}];
        const bool goes_on = phrases_.contains(phrase) && place.bar % kBars != kBars - 1;
        phrases_.insert(phrase);
        if (goes_on) return last;
        std::vector<const DrumFigure*> some = as_full(drum_figures(band_.style, false, part), full);
        if (is_first_of_many) keep_those_with_kick(some);
        return another(std::move(some), last);
    }

    // Where a bar goes by groups the kick tells which of them is the first. Common practice, no source.
    static void keep_those_with_kick(std::vector<const DrumFigure*>& figures) {
        const auto has_none = [](const DrumFigure* figure) {
            return std::ranges::none_of(figure->voices, [](const auto& voice) {
                const auto& [drum, bars] = voice;
                return drum == Drum::Kick && !bars[0].empty() && bars[0].front().at == Duration{};
            });
        };
        if (!std::ranges::all_of(figures, has_none)) std::erase_if(figures, has_none);
    }

    // Each as often as its share says; less full ones where there are none.
    [[nodiscard]] std::vector<const DrumFigure*> as_full(const std::vector<DrumFigure>& all, int full) const {
        std::vector<const DrumFigure*> out;
        for (int wanted = full; wanted > 0 && out.empty(); --wanted) {
            for (const DrumFigure& figure : all) {
                if (figure.full == wanted && is_for_tempo(figure)) add(out, figure);
            }
        }
        return out;
    }

    const RhythmSection& band_;
    std::vector<FormPlace> places_;
    Chance chance_;
    std::map<std::pair<Duration, Duration>, const DrumFigure*> chosen_, fills_;   // by the part of the bar
    std::set<std::tuple<std::size_t, std::size_t, Duration, Duration>> phrases_;  // that have begun
    std::vector<DrumNote> out_;
};

}  // namespace

std::vector<DrumNote> play_drums(const RhythmSection& band) {
    return Drummer{band}.play();
}

}  // namespace shedbook
