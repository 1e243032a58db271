#include "bass_beats.h"

#include <algorithm>

#include "shedbook/band/beats.h"

namespace shedbook {
namespace {

constexpr unsigned kAllTwelve = 0xFFFU;
// How many chords to either side say which notes the key has.
constexpr std::size_t kEarshot = 2;

unsigned turned(unsigned set, int semitones) {
    const auto by = static_cast<unsigned>(semitones);
    return ((set << by) | (set >> (12U - by))) & kAllTwelve;
}

unsigned sounding_set(const ChordSymbol& symbol) {
    return turned(pitch_set(symbol), symbol.root.semitone());
}

// Where no scale is known, the chords around tell which second, fourth and sixth the key has; a note that
// they do not settle is taken at a whole step from the chord tone below it.
unsigned scale_around(std::span<const BandChord> chords, std::size_t which) {
    const BandChord& chord = chords[which];
    if (chord.scale != 0) return chord.scale;
    const unsigned own = sounding_set(*chord.symbol);
    unsigned near = 0;
    const std::size_t last = std::min(chords.size(), which + kEarshot + 1);
    for (std::size_t i = which < kEarshot ? 0 : which - kEarshot; i < last; ++i) {
        if (chords[i].symbol) near |= sounding_set(*chords[i].symbol);
    }
    unsigned out = own | near;
    for (int pitch_class = 0; pitch_class < 12; ++pitch_class) {
        const bool above_a_tone = (turned(own, 2) >> static_cast<unsigned>(pitch_class) & 1U) != 0;
        const unsigned a_half_step_around =
            turned(1U, (pitch_class + 1) % 12) | turned(1U, (pitch_class + 11) % 12);
        if (above_a_tone && (out & a_half_step_around) == 0) out |= 1U << static_cast<unsigned>(pitch_class);
    }
    return out;
}

BassTone tone_of(ChordRole role) {
    switch (role) {
        case ChordRole::Root:
            return BassTone::Bass;
        case ChordRole::Third:
        case ChordRole::Fourth:
        case ChordRole::Second:
            return BassTone::Third;
        case ChordRole::Fifth:
            return BassTone::Fifth;
        case ChordRole::Sixth:
        case ChordRole::Seventh:
            return BassTone::Seventh;
        default:
            return BassTone::Colour;
    }
}

int bass_of(const ChordSymbol& symbol) {
    return symbol.bass.value_or(symbol.root).semitone();
}

class Beats {
  public:
    Beats(std::span<const BandChord> chords, std::span<const BandBar> bars, BassFeel feel, KeySpan within)
        : chords_{chords}, bars_{bars}, feel_{feel}, within_{within} {}

    std::vector<BassBeat> make() {
        for (const BandBar& bar : bars_) add_bar(bar);
        drop_beats_after_early_changes();
        set_lengths();
        return std::move(out_);
    }

  private:
    void add_bar(const BandBar& bar) {
        const Position end = bar.at + bar.length;
        std::vector<Position> places = placed_in(bar, bass_places(bar.meter, feel_));
        for (std::size_t i = chord_; i < chords_.size() && chords_[i].at < end; ++i) {
            if (chords_[i].at >= bar.at) places.push_back(chords_[i].at);
        }
        std::ranges::sort(places);
        places.erase(std::unique(places.begin(), places.end()), places.end());
        const std::vector<Position> groups = placed_in(bar, group_places(bar.meter));
        for (const Position at : places) {
            while (chord_ < chords_.size() && chords_[chord_].at + chords_[chord_].length <= at) ++chord_;
            if (chord_ == chords_.size() || chords_[chord_].at > at || !chords_[chord_].symbol) continue;
            add_beat(at, at == bar.at, std::ranges::find(groups, at) != groups.end(), bar.meter);
        }
    }

    void add_beat(Position at, bool starts_bar, bool is_strong, const Meter& meter) {
        if (tones_for_ != chord_ || out_.empty()) {
            tones_ = bass_tones(chords_, chord_);
            tones_for_ = chord_;
        }
        BassBeat beat;
        beat.at = at;
        beat.length = meter.beat_length();
        beat.is_change = at == chords_[chord_].at || chord_of_.empty() || chord_of_.back() != chord_;
        beat.starts_bar = starts_bar;
        beat.is_strong = is_strong;
        beat.tones = tones_;
        for (int key = within_.low; key <= within_.high; ++key) {
            if (beat.is_change && beat.tone(key) != BassTone::Bass) continue;
            if (starts_bar && beat.is_outside(key)) continue;
            beat.keys.push_back(key);
        }
        out_.push_back(std::move(beat));
        chord_of_.push_back(chord_);
    }

    // A change before the beat takes the place of the note on it.
    void drop_beats_after_early_changes() {
        std::vector<BassBeat> kept;
        for (BassBeat& beat : out_) {
            const bool is_covered = !kept.empty() && kept.back().is_change && !beat.is_change &&
                                    beat.at - kept.back().at < beat.length && !falls_on_beat(kept.back().at);
            if (is_covered) continue;
            kept.push_back(std::move(beat));
        }
        out_ = std::move(kept);
    }

    [[nodiscard]] bool falls_on_beat(Position at) const {
        const auto bar = std::ranges::upper_bound(bars_, at, {}, &BandBar::at) - 1;
        const std::vector<Position> places = placed_in(*bar, bass_places(bar->meter, BassFeel::Walking));
        return std::ranges::find(places, at) != places.end();
    }

    // A note lasts to the next one, or to the end of its chord or bar where the band falls silent.
    void set_lengths() {
        for (std::size_t i = 0; i < out_.size(); ++i) {
            const Position silent = end_of_sound(out_[i].at);
            const Position next = i + 1 < out_.size() ? out_[i + 1].at : silent;
            out_[i].leads_on = i + 1 < out_.size() && next <= silent;
            out_[i].length = std::min(next, silent) - out_[i].at;
        }
    }

    // Where the chords that follow each other without a gap end.
    [[nodiscard]] Position end_of_sound(Position at) {
        while (sound_ < chords_.size() && chords_[sound_].at + chords_[sound_].length <= at) ++sound_;
        Position end = chords_[sound_].at + chords_[sound_].length;
        if (sound_ + 1 < chords_.size() && chords_[sound_ + 1].symbol && chords_[sound_ + 1].at == end) {
            end += chords_[sound_ + 1].length;
        }
        return end;
    }

    std::span<const BandChord> chords_;
    std::span<const BandBar> bars_;
    BassFeel feel_;
    KeySpan within_;
    std::vector<BassBeat> out_;
    std::vector<std::size_t> chord_of_;
    std::array<BassTone, 12> tones_{};
    std::size_t tones_for_ = 0;
    std::size_t chord_ = 0;
    std::size_t sound_ = 0;
};

}  // namespace

std::array<BassTone, 12> bass_tones(std::span<const BandChord> chords, std::size_t which) {
    const ChordSymbol& symbol = *chords[which].symbol;
    const unsigned scale = scale_around(chords, which);
    std::array<BassTone, 12> out{};
    for (unsigned i = 0; i < 12; ++i) out[i] = (scale >> i & 1U) != 0 ? BassTone::Scale : BassTone::Other;
    for (const ChordTone& tone : tones(symbol)) {
        const int at = (symbol.root.semitone() + tone.above_root.semitones()) % 12;
        out[static_cast<std::size_t>(at)] = tone_of(tone.role);
    }
    // With another bass the root is a chord tone like the fifth.
    if (symbol.bass) out[static_cast<std::size_t>(symbol.root.semitone())] = BassTone::Fifth;
    out[static_cast<std::size_t>(bass_of(symbol))] = BassTone::Bass;
    return out;
}

std::vector<BassBeat> bass_beats(std::span<const BandChord> chords, std::span<const BandBar> bars,
                                 BassFeel feel, KeySpan within) {
    return Beats{chords, bars, feel, within}.make();
}

}  // namespace shedbook
