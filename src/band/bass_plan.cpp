#include "bass_plan.h"

#include <algorithm>
#include <string_view>

#include "bass_search.h"
#include "dealt.h"
#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

// How often a walking line does what, of a hundred: the middle of the cleaner takes of the Weimar Jazz
// Database (M. Pfleiderer, K. Frieler, J. Abesser, W.-G. Zaddach, B. Burkhart (eds.), Inside the Jazzomat,
// Schott 2017; beat tracks with the bass note of each beat). Those were transcribed by machine, which makes
// leaps and foreign notes commoner than they are: steps and roots are dealt a little oftener here. What a
// deal asks for the chords do not always let through; tests hold the outcome to the bands.
const std::vector<std::pair<BassMotion, int>> kIntoChange{{BassMotion::Step, 49},
                                                          {BassMotion::Fourth, 15},
                                                          {BassMotion::Third, 14},
                                                          {BassMotion::Same, 14},
                                                          {BassMotion::Wide, 8}};
const std::vector<std::pair<BassMotion, int>> kWithinChord{{BassMotion::Step, 36},
                                                           {BassMotion::Same, 24},
                                                           {BassMotion::Third, 16},
                                                           {BassMotion::Fourth, 15},
                                                           {BassMotion::Wide, 11}};
const std::vector<std::pair<BassTone, int>> kOnChange{
    {BassTone::Bass, 70}, {BassTone::Fifth, 14}, {BassTone::Third, 16}};
// Where a bar begins inside a chord: its bass again, or whichever of its tones the line comes to, or now and
// then a note of the scale on the way from one to the next.
enum class OnOne : std::int8_t { Bass, ChordTone, Passing };
const std::vector<std::pair<OnOne, int>> kOnOne{{OnOne::Bass, 8}, {OnOne::ChordTone, 8}, {OnOne::Passing, 4}};
// What lasts longer than a beat is the chord's: in two, in a ballad, in a waltz. Common practice, no source.
const std::vector<std::pair<BassTone, int>> kHeldOnChange{
    {BassTone::Bass, 84}, {BassTone::Fifth, 8}, {BassTone::Third, 8}};

constexpr int kMustChange = 46;
constexpr int kWouldLike = 30;
constexpr int kWanted = 60;

// How high a line lies: an arch over each section, from its lowest place to the highest and part of the way
// back.
constexpr int kArchLow = 35;
constexpr int kArchHigh = 43;
constexpr std::size_t kArchBars = 8;

class Plan {
  public:
    Plan(const RhythmSection& band, const std::vector<FormPlace>& places,
         const std::vector<BassStroke>& strokes)
        : band_{band},
          places_{places},
          strokes_{strokes},
          chance_{band.seed},
          into_change_{kIntoChange, chance_},
          within_chord_{kWithinChord, chance_},
          on_change_{kOnChange, chance_},
          held_on_change_{kHeldOnChange, chance_},
          on_one_{kOnOne, chance_} {}

    std::vector<BassBeat> make() {
        for (std::size_t i = 0; i < strokes_.size(); ++i) {
            if (strokes_[i].sign != 's') add(i);
        }
        for (std::size_t i = 0; i + 1 < out_.size(); ++i) wish_from(i);
        for (std::size_t i = 1; i < out_.size(); ++i) hold_octave(i);
        if (!out_.empty()) out_.back().leads_on = false;
        return std::move(out_);
    }

  private:
    void add(std::size_t i) {
        const BassStroke& stroke = strokes_[i];
        if (tones_of_ != stroke.chord || out_.empty()) {
            tones_ = bass_tones(band_.chords, stroke.chord);
            tones_of_ = stroke.chord;
        }
        BassBeat beat;
        beat.at = stroke.at;
        beat.length = stroke.length;
        beat.is_change = stroke.is_change;
        beat.starts_bar = stroke.at == band_.bars[stroke.bar].at;
        beat.is_strong = beat.starts_bar || stroke.sign == '5' || stroke.sign == 't';
        beat.leads_on = true;
        beat.tones = tones_;
        beat.centre = centre_at(stroke);
        const BassTone wanted = wanted_tone(i);
        fill_keys(beat, [&](int key) { return may_play(beat, stroke, wanted, key); });
        if (walks(stroke) && is_strong(stroke)) hold_to_chord(beat, i, wanted);
        if (i == bass_due_at_ || stops_at_hold(stroke))
            std::erase_if(beat.keys, [&](int key) { return beat.tone(key) != BassTone::Bass; });
        if (i > 0 && strokes_[i - 1].chord == stroke.chord && out_.back().wanted)
            std::erase_if(beat.keys, [&](int key) { return beat.tone(key) == out_.back().wanted; });
        if (stroke.sign == 't' && follows_root(i))
            std::erase_if(beat.keys, [&](int key) { return beat.tone(key) == BassTone::Bass; });
        if (is_held(stroke))
            std::erase_if(beat.keys, [&](int key) { return beat.tone(key) > BassTone::Seventh; });
        // A chord that has no such tone has its bass at least.
        if (beat.keys.empty()) fill_keys(beat, [&](int key) { return beat.tone(key) == BassTone::Bass; });
        if (stroke.is_change && wanted != BassTone::Bass) {
            beat.wanted = wanted;
            beat.wanted_cost = kWanted;
        }
        out_.push_back(std::move(beat));
        stroke_of_.push_back(i);
    }

    // Another tone is meant there than the one that was just played.
    [[nodiscard]] bool follows_root(std::size_t i) const {
        if (i == 0 || strokes_[i - 1].bar != strokes_[i].bar || strokes_[i - 1].chord != strokes_[i].chord)
            return false;
        return strokes_[i - 1].sign == 'R' || strokes_[i - 1].sign == 't';
    }

    // What lasts longer than a beat is no way to somewhere else. Common practice, no source.
    [[nodiscard]] bool is_held(const BassStroke& stroke) const {
        const Meter& meter = band_.bars[stroke.bar].meter;
        return stroke.length > (meter.is_compound() ? meter.beat_length() : kQuarter);
    }

    [[nodiscard]] static bool walks(const BassStroke& stroke) { return stroke.sign == 'w'; }

    // Whether it is on a strong beat of its bar: 1 and 3 in four.
    [[nodiscard]] bool is_strong(const BassStroke& stroke) const {
        const BandBar& bar = band_.bars[stroke.bar];
        const std::vector<Position> strong = placed_in(bar, group_places(bar.meter));
        return std::ranges::find(strong, stroke.at) != strong.end();
    }

    // A bar is heard to be its chord's: it has the bass on a strong beat, or else tones of the chord on all
    // of them. Common practice, no source.
    void hold_to_chord(BassBeat& beat, std::size_t i, BassTone wanted) {
        if (hold_.bar != strokes_[i].bar) hold_ = {strokes_[i].bar, false};
        if (beat.is_change) {
            hold_.has_bass |= wanted == BassTone::Bass;
            return;
        }
        OnOne on_one = beat.starts_bar ? on_one_.deal() : OnOne::ChordTone;
        if (i == bass_due_at_) on_one = OnOne::Bass;
        if (hold_.has_bass) return;
        if (on_one == OnOne::Passing && may_pass(i)) {
            beat.wanted = BassTone::Scale;
            beat.wanted_cost = kWanted;
            bass_due_at_ = place_for_bass_after(i);
            return;
        }
        const BassTone most = on_one == OnOne::Bass ? BassTone::Bass : BassTone::Seventh;
        std::erase_if(beat.keys, [&](int key) { return beat.tone(key) > most; });
        hold_.has_bass |= most == BassTone::Bass;
    }

    // From beat to beat, with the bass of the chord on the next strong one.
    [[nodiscard]] bool may_pass(std::size_t i) const {
        const std::optional<std::size_t> later = place_for_bass_after(i);
        return later && *later > i + 1 && is_strong(strokes_[*later]) &&
               strokes_[*later].bar == strokes_[i].bar;
    }

    // On a change of a walk mostly the bass; never twice in a row something else. A chord of a beat has no
    // time to say otherwise which one it is.
    BassTone wanted_tone(std::size_t i) {
        const BassStroke& stroke = strokes_[i];
        const BandChord& chord = band_.chords[stroke.chord];
        const bool begins_section = places_[stroke.bar].bar == 0;
        if (!stroke.is_change || stroke.sign != 'w') return BassTone::Bass;
        const bool is_short = chord.length <= band_.bars[stroke.bar].meter.beat_length();
        const std::optional<std::size_t> later = place_for_bass_after(i);
        const bool is_plain = chord.symbol->bass || begins_section || is_short || stops_at_hold(stroke);
        if (is_plain || is_root_due_ || !later) {
            is_root_due_ = false;
            return BassTone::Bass;
        }
        BassTone out = stroke.length > kQuarter ? held_on_change_.deal() : on_change_.deal();
        // From a fifth to the bass at once is a leap too many, and so is mostly one from the bass to the
        // next.
        if (out == BassTone::Fifth && *later == i + 1) out = BassTone::Third;
        if (*later == i + 1 && leaps_on(stroke.chord) && chance_.below(3) > 0) out = BassTone::Bass;
        is_root_due_ = out != BassTone::Bass;
        if (is_root_due_) bass_due_at_ = *later;
        return out;
    }

    [[nodiscard]] bool stops_at_hold(const BassStroke& stroke) const {
        return std::ranges::any_of(band_.holds, [&](Position hold) {
            return stroke.at <= hold && hold < stroke.at + stroke.length;
        });
    }

    // Whether the bass of the next chord is a fourth or fifth away.
    [[nodiscard]] bool leaps_on(std::size_t chord) const {
        if (chord + 1 == band_.chords.size() || !band_.chords[chord + 1].symbol) return false;
        const auto bass_of = [&](std::size_t which) {
            const ChordSymbol& symbol = *band_.chords[which].symbol;
            return symbol.bass.value_or(symbol.root).semitone();
        };
        return motion_of((bass_of(chord + 1) - bass_of(chord) + 12) % 12) == BassMotion::Fourth;
    }

    // Where the bass of a chord is played that began with another note: on its next strong beat, else on its
    // second note; within two beats, or nowhere.
    [[nodiscard]] std::optional<std::size_t> place_for_bass_after(std::size_t i) const {
        const BassStroke& change = strokes_[i];
        std::optional<std::size_t> second;
        for (std::size_t k = i + 1; k < strokes_.size(); ++k) {
            const BassStroke& stroke = strokes_[k];
            if (stroke.chord != change.chord || stroke.at - change.at > kHalf) break;
            if (!walks(stroke)) continue;
            if (is_strong(stroke)) return k;
            if (!second) second = k;
        }
        return second;
    }

    template <class May>
    static void fill_keys(BassBeat& beat, May may) {
        for (int key = kBassLowest; key <= kBandBassHighest; ++key) {
            if (may(key)) beat.keys.push_back(key);
        }
    }

    [[nodiscard]] static bool may_play(const BassBeat& beat, const BassStroke& stroke, BassTone wanted,
                                       int key) {
        const BassTone tone = beat.tone(key);
        if (stroke.is_change) return tone == wanted;
        switch (stroke.sign) {
            case 'R':
            case '>':
            case '8':
                return tone == BassTone::Bass;
            case '3':
                return tone == BassTone::Third;
            case '5':
                return tone == BassTone::Fifth;
            case 't':
                return tone <= BassTone::Fifth;
            default:
                return true;
        }
    }

    [[nodiscard]] int centre_at(const BassStroke& stroke) {
        const FormPlace& place = places_[stroke.bar];
        if (arches_.size() <= place.section) arches_.resize(place.section + 1, 0);
        int& top = arches_[place.section];
        if (top == 0) top = kArchLow + 5 + chance_.below(kArchHigh - kArchLow - 4);
        // Up over five eighths of it, down for the rest.
        const auto bar = static_cast<int>(place.bar % kArchBars);
        const int rising = std::min(bar, 5) * (top - kArchLow) / 5;
        const int falling = std::max(0, bar - 5) * (top - kArchLow) / 4;
        return kArchLow + rising - falling;
    }

    // A figure says a root, a fifth or an octave once more on the same key as before: leaps of an octave are
    // where it has them, and nowhere else.
    void hold_octave(std::size_t i) {
        out_[i].rise = rise_between(i - 1, i);
        if (i > 1 && !out_[i].rise) out_[i].rise_of_two = rise_between(i - 2, i);
    }

    [[nodiscard]] std::optional<int> rise_between(std::size_t from, std::size_t to) const {
        constexpr int kOctave = 12;
        const BassStroke& first = strokes_[stroke_of_[from]];
        const BassStroke& second = strokes_[stroke_of_[to]];
        const bool is_here = first.bar == second.bar || first.sign == kEarlyBass;
        if (!is_here || first.chord != second.chord) return std::nullopt;
        const auto is_root = [](char sign) { return sign == 'R' || sign == kEarlyBass; };
        if (first.sign == second.sign && std::string_view{"R58"}.find(first.sign) != std::string_view::npos)
            return 0;
        if (is_root(first.sign) && is_root(second.sign)) return 0;
        if (is_root(first.sign) && second.sign == '8') return kOctave;
        if (first.sign == '8' && is_root(second.sign)) return -kOctave;
        return std::nullopt;
    }

    void wish_from(std::size_t i) {
        BassBeat& beat = out_[i];
        const BassStroke& stroke = strokes_[stroke_of_[i]];
        const BassStroke& next = strokes_[stroke_of_[i + 1]];
        beat.leads_on = stroke.at + stroke.length <= next.at &&
                        next.at - stroke.at <= std::max(kWhole, band_.bars[stroke.bar].meter.bar_length());
        if (!beat.leads_on) return;
        if (stroke.sign == 'l') {
            beat.wish = BassMotion::Step;
            beat.wish_cost = kMustChange;
        } else if (stroke.sign == 'w' && next.is_change) {
            // From one change straight to the next there is little to choose.
            if (beat.is_change && beat.keys.size() < 3) return;
            beat.wish = into_change_.deal();
            beat.wish_cost = kMustChange;
        } else if (stroke.sign == 'w' && next.sign == 'w') {
            beat.wish = within_chord_.deal();
            beat.wish_cost = kWouldLike;
        }
    }

    const RhythmSection& band_;
    const std::vector<FormPlace>& places_;
    const std::vector<BassStroke>& strokes_;
    Chance chance_;
    Pack<BassMotion> into_change_, within_chord_;
    Pack<BassTone> on_change_, held_on_change_;
    Pack<OnOne> on_one_;
    // How far the bar at hand holds on to its chord on its strong beats.
    struct Hold {
        std::size_t bar = 0;
        bool has_bass = false;
    } hold_;
    std::vector<BassBeat> out_;
    std::vector<std::size_t> stroke_of_;
    std::vector<int> arches_;
    std::array<BassTone, 12> tones_{};
    std::size_t tones_of_ = 0;
    bool is_root_due_ = false;                // on the next change, after one that had another note
    std::optional<std::size_t> bass_due_at_;  // the stroke that makes up for it within the chord
};

}  // namespace

std::vector<BassBeat> plan_bass(const RhythmSection& band, const std::vector<FormPlace>& places,
                                const std::vector<BassStroke>& strokes) {
    return Plan{band, places, strokes}.make();
}

}  // namespace shedbook
