#include <algorithm>
#include <map>

#include "bass_plan.h"
#include "bass_search.h"
#include "dealt.h"
#include "ending.h"
#include "figures.h"

namespace shedbook {
namespace {

constexpr int kTries = 30;
constexpr std::size_t kMostAlike = 2;

using Keys = std::vector<int>;

class BassPlayer {
  public:
    explicit BassPlayer(const RhythmSection& band)
        : band_{band},
          places_{form_places(band)},
          strokes_{bass_strokes(band, places_)},
          chance_{band.seed + 99U} {}

    std::vector<BandNote> play() {
        beats_ = plan_bass(band_, places_, strokes_);
        const BassManner manner =
            has_walking_bass(band_.style) ? BassManner::BandWalk : BassManner::BandPattern;
        unsigned seed = band_.seed;
        Keys keys = cheapest_keys(beats_, manner, seed);
        // What a chorus has twice already comes another way.
        for (int i = 0; has_walking_bass(band_.style) && i < kTries; ++i) {
            std::vector<std::size_t> stale = bars_heard_too_often(keys);
            for (const std::size_t bar : bars_running_too_far(keys)) stale.push_back(bar);
            if (stale.empty()) break;
            for (const std::size_t bar : stale) change_mind(bar, keys);
            keys = cheapest_keys(beats_, manner, ++seed);
        }
        return notes(keys);
    }

  private:
    // The bars, each the second of two, whose notes came twice before in their chorus.
    [[nodiscard]] std::vector<std::size_t> bars_heard_too_often(const Keys& keys) const {
        std::vector<Keys> of_bar(band_.bars.size());
        std::size_t i = 0;
        for (const BassStroke& stroke : strokes_) {
            if (stroke.sign != 's') of_bar[stroke.bar].push_back(keys[i++]);
        }
        std::vector<std::size_t> out;
        std::map<std::pair<std::size_t, Keys>, std::size_t> heard;
        for (std::size_t bar = 0; bar + 1 < of_bar.size(); ++bar) {
            if (of_bar[bar].empty() || of_bar[bar + 1].empty()) continue;
            Keys two = of_bar[bar];
            two.push_back(-1);
            two.insert(two.end(), of_bar[bar + 1].begin(), of_bar[bar + 1].end());
            if (++heard[{places_[bar].chorus, std::move(two)}] > kMostAlike) out.push_back(bar + 1);
        }
        return out;
    }

    // The bars in which a line goes on in its direction for more notes than a player would.
    [[nodiscard]] std::vector<std::size_t> bars_running_too_far(const Keys& keys) const {
        constexpr int kLongest = 8;
        std::vector<std::size_t> out;
        std::size_t i = 0;
        int run = 1;
        bool was_rising = false;
        for (const BassStroke& stroke : strokes_) {
            if (stroke.sign == 's') continue;
            if (i > 0) {
                const bool rises = keys[i] > keys[i - 1];
                run = keys[i] == keys[i - 1] ? 1 : run > 1 && rises == was_rising ? run + 1 : 2;
                was_rising = rises;
                if (run > kLongest) out.push_back(stroke.bar);
            }
            ++i;
        }
        return out;
    }

    // Other wishes in a bar, and the way that was taken made dear.
    void change_mind(std::size_t bar, const Keys& keys) {
        constexpr BassMotion kOthers[]{BassMotion::Step, BassMotion::Third, BassMotion::Fourth,
                                       BassMotion::Step};
        constexpr int kWish = 34;
        std::size_t i = 0;
        for (const BassStroke& stroke : strokes_) {
            if (stroke.sign == 's') continue;
            BassBeat& beat = beats_[i];
            if (stroke.bar == bar) {
                beat.wish = kOthers[static_cast<std::size_t>(chance_.below(4))];
                beat.wish_cost = kWish;
                beat.centre = std::clamp(beat.centre + chance_.below(15) - 7, 34, 48);
                if (chance_.below(2) == 0) beat.stale = keys[i];
            }
            ++i;
        }
    }

    [[nodiscard]] std::vector<BandNote> notes(const Keys& keys) const {
        std::vector<BandNote> out;
        std::size_t i = 0;
        for (const BassStroke& stroke : strokes_) {
            if (band_.ending && stroke.at >= band_.ending->at) break;
            Duration length = stroke.length;
            if (band_.ending) length = std::min(length, band_.ending->at - stroke.at);
            if (stroke.sign != 's') {
                out.push_back({stroke.at, length, keys[i++], Touch::Plain});
            } else if (!out.empty()) {
                out.push_back({stroke.at, length, out.back().key, Touch::Soft});
            }
        }
        if (!band_.ending) return out;
        const int key = last_key(out);
        for (const EndingStroke& stroke : ending_strokes(band_))
            out.push_back({stroke.at, stroke.length, key, Touch::Weight});
        return out;
    }

    // The lowest root that is not a long way off.
    [[nodiscard]] int last_key(const std::vector<BandNote>& before) const {
        const BandEnding& ending = *band_.ending;
        const int root = ending.symbol.bass.value_or(ending.symbol.root).semitone();
        int key = kBassLowest + ((root - kBassLowest) % 12 + 12) % 12;
        if (!before.empty() && before.back().key - key > 12) key += 12;
        return key;
    }

    const RhythmSection& band_;
    std::vector<FormPlace> places_;
    std::vector<BassStroke> strokes_;
    Chance chance_;
    std::vector<BassBeat> beats_;
};

}  // namespace

std::vector<BandNote> play_bass(const RhythmSection& band) {
    return BassPlayer{band}.play();
}

}  // namespace shedbook
