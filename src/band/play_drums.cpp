#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "dealt.h"
#include "figures.h"
#include "form.h"

namespace shedbook {
namespace {

Touch touch_of(char sign) {
    return sign == 'X' ? Touch::Weight : sign == 'o' ? Touch::Soft : Touch::Plain;
}

class Drummer {
  public:
    explicit Drummer(const RhythmSection& band)
        : band_{band}, places_{form_places(band)}, chance_{band.seed * 69069U + 1U} {}

    std::vector<DrumNote> play() {
        const bool has_chords = std::ranges::any_of(
            band_.chords, [](const BandChord& chord) { return chord.symbol.has_value(); });
        for (std::size_t i = 0; i < band_.bars.size(); ++i) play_bar(i);
        std::erase_if(out_, [&](const DrumNote& note) {
            if (band_.ending && note.at >= band_.ending->at) return true;
            const bool keeps_time = note.drum == Drum::HiHat || note.drum == Drum::HiHatFoot;
            return has_chords && !keeps_time && !chord_number_at(band_.chords, note.at);
        });
        if (band_.ending) {
            out_.push_back({band_.ending->at, Drum::Kick, Touch::Plain});
            out_.push_back(
                {band_.ending->at, has_brushes(band_.style) ? Drum::Ride : Drum::Crash, Touch::Soft});
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
        const Duration missing = std::max(Duration{}, bar.meter.bar_length() - bar.length);
        for (const BarPart& part : parts_of(bar.meter)) {
            const DrumFigure* figure = choose(place, part, full);
            if (figure == nullptr) continue;
            for (const auto& [drum, bars] : figure->voices) {
                for (const Stroke& stroke : bars[place.bar % bars.size()]) {
                    const Position at = bar.at + (part.at + stroke.at - missing);
                    if (at >= bar.at && at < bar.at + bar.length)
                        out_.push_back({at, drum, touch_of(stroke.sign)});
                }
            }
        }
        const bool begins_chorus =
            place.bar == 0 && place.chorus > 0 && which > 0 && places_[which - 1].chorus != place.chorus;
        if (begins_chorus && full > 1 && !has_brushes(band_.style))
            out_.push_back({bar.at, Drum::Crash, Touch::Soft});
    }

    // A fill before a new section, else a figure as full as the chorus; the same for a phrase of four bars.
    const DrumFigure* choose(const FormPlace& place, const BarPart& part, int full) {
        if (place.ends_section && place.bar > 0) {
            const std::vector<DrumFigure>& fills = drum_figures(band_.style, true, part);
            if (!fills.empty())
                return &fills[static_cast<std::size_t>(chance_.below(static_cast<int>(fills.size())))];
        }
        const std::vector<DrumFigure>& all = drum_figures(band_.style, false, part);
        std::vector<const DrumFigure*> some;
        for (int wanted = full; wanted > 0 && some.empty(); --wanted) {
            for (const DrumFigure& figure : all) {
                if (figure.full == wanted)
                    some.insert(some.end(), static_cast<std::size_t>(figure.share), &figure);
            }
        }
        if (some.empty()) return nullptr;
        const auto phrase = std::tuple{place.section, place.bar / 4, part.length, part.at};
        const auto [chosen, is_new] = chosen_.try_emplace(phrase, nullptr);
        if (is_new || place.bar % 4 == 3)
            chosen->second = some[static_cast<std::size_t>(chance_.below(static_cast<int>(some.size())))];
        return chosen->second;
    }

    const RhythmSection& band_;
    std::vector<FormPlace> places_;
    Chance chance_;
    std::map<std::tuple<std::size_t, std::size_t, Duration, Duration>, const DrumFigure*> chosen_;
    std::vector<DrumNote> out_;
};

}  // namespace

std::vector<DrumNote> play_drums(const RhythmSection& band) {
    return Drummer{band}.play();
}

}  // namespace shedbook
