#include "rhythm.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "melody_weights.h"

namespace shedbook {
namespace {

constexpr int T = kBeatTicks;
constexpr int kLong = 6 * T;

// Shares of beats as counted in the solos named in melody_figures.toml, beats of five notes and more left
// out; the first is the beat in which nothing begins.
constexpr std::array<BeatPattern, 14> kInTwo{{
    {0, {}, 0.072},
    {1, {0}, 0.121},
    {1, {30}, 0.073},
    {2, {0, 30}, 0.414},
    {3, {0, 20, 40}, 0.040},
    {4, {0, 15, 30, 45}, 0.056},
    {3, {0, 30, 45}, 0.043},
    {2, {0, 20}, 0.036},
    {3, {0, 15, 30}, 0.023},
    {3, {0, 15, 45}, 0.020},
    {2, {0, 15}, 0.015},
    {3, {15, 30, 45}, 0.011},
    {2, {30, 45}, 0.007},
    {2, {20, 40}, 0.005},
}};
// The same for beats of three parts: pairs are long and short. Common practice, no source.
constexpr std::array<BeatPattern, 7> kInThree{{
    {0, {}, 0.09},
    {1, {0}, 0.16},
    {1, {40}, 0.06},
    {2, {0, 40}, 0.25},
    {3, {0, 20, 40}, 0.34},
    {2, {0, 20}, 0.05},
    {2, {20, 40}, 0.05},
}};
constexpr std::array<BeatPattern, 2> kUndivided{{{0, {}, 0.3}, {1, {0}, 0.7}}};

constexpr std::array<Figure, 17> kRhythmFigures{
    Figure::PhraseNotes, Figure::PhraseBeats,   Figure::PhraseSpread, Figure::Rests,
    Figure::PhraseMax,   Figure::StartOne,      Figure::StartOff,     Figure::EndOff,
    Figure::Density,     Figure::RhythmVariety, Figure::RhythmTop,    Figure::RhythmPrevious,
    Figure::Syncopation, Figure::OffBeat,       Figure::ValueVariety, Figure::Eighths,
    Figure::Fast};

}  // namespace

std::span<const BeatPattern> beat_patterns(Beat::Division division) {
    if (division == Beat::Division::Three) return kInThree;
    if (division == Beat::Division::None) return kUndivided;
    return kInTwo;
}

RhythmSearch::RhythmSearch(const BeatGround& ground, const Figures& aims, const FigureWindow& window,
                           const RhythmOptions& options, Dice& dice)
    : ground_{ground},
      aims_{aims},
      window_{window},
      options_{options},
      dice_{dice},
      meter_{ground},
      beats_(ground.beats.size()),
      locked_(ground.beats.size(), 0),
      partner_(ground.beats.size()) {
    for (std::size_t i = 0; i < partner_.size(); ++i) partner_[i] = static_cast<int>(i);
}

RhythmSearch::Filling RhythmSearch::any_filling(std::size_t beat) {
    const auto patterns = beat_patterns(ground_.beats[beat].division);
    while (true) {
        double place = dice_.unit();
        for (std::size_t k = 0; k < patterns.size(); ++k) {
            place -= patterns[k].share;
            if (place > 0) continue;
            if (patterns[k].count > options_.most_in_a_beat) break;
            const bool on_beat = patterns[k].count > 0 && patterns[k].onsets[0] == 0;
            return {static_cast<std::int8_t>(k), !on_beat && dice_.chance(0.45)};
        }
    }
}

// Phrases and breaths as long as the aims have them, filled by chance.
void RhythmSearch::begin() {
    const std::size_t n = beats_.size();
    const double phrase = std::max(2.0, aims_[Figure::PhraseBeats]);
    const double breath =
        std::max(1.0, phrase * aims_[Figure::Rests] / std::max(0.2, 1 - aims_[Figure::Rests]));
    const double spread = std::min(1.0, aims_[Figure::PhraseSpread]);
    const auto length = [&](double mean) {
        return std::max(
            1, static_cast<int>(std::lround(mean * std::exp(spread * dice_.normal() - spread * spread / 2))));
    };
    bool plays = dice_.chance(0.8);
    for (std::size_t i = 0; i < n;) {
        const int count = length(plays ? phrase : breath);
        for (int k = 0; k < count && i < n; ++k, ++i) beats_[i] = plays ? any_filling(i) : Filling{0, true};
        plays = !plays;
    }
    for (const BeatChord& chord : ground_.chords) {
        if (chord.sounds) continue;
        for (int b = chord.start / T; b * T < chord.end; ++b) {
            beats_[static_cast<std::size_t>(b)] = {0, true};
            locked_[static_cast<std::size_t>(b)] = 1;
        }
    }
    if (!options_.ends || ground_.bars() < 2) return;
    // The last bar: one note, held, and then rest.
    const auto last =
        static_cast<std::size_t>(ground_.bar_start[static_cast<std::size_t>(ground_.bars()) - 1] / T);
    const bool has_chord = locked_[last] == 0;
    for (std::size_t i = last; i < n; ++i) {
        if (locked_[i] != 0) continue;
        beats_[i] = {0, i > last + (n - last) / 2};
        locked_[i] = 1;
    }
    if (has_chord) beats_[last] = {1, false};
}

void RhythmSearch::fill(std::size_t beat, Filling filling) {
    std::size_t b = beat;
    do {
        note_change(b);
        beats_[b] = filling;
        b = static_cast<std::size_t>(partner_[b]);
    } while (b != beat);
}

void RhythmSearch::propose() {
    const int n = static_cast<int>(beats_.size());
    const auto beat = static_cast<std::size_t>(dice_.below(n));
    const double what = dice_.unit();
    if (!may_change(beat)) return;
    if (what < 0.55) return fill(beat, any_filling(beat));
    if (what < 0.70) {
        const auto other = static_cast<std::size_t>(dice_.below(n));
        if (!may_change(other) || ground_.beats[other].division != ground_.beats[beat].division) return;
        const Filling kept = beats_[beat];
        fill(beat, beats_[other]);
        return fill(other, kept);
    }
    if (what < 0.88) {
        // A breath begins or ends earlier or later.
        const bool is_rest = beats_[beat].pattern == 0 && beats_[beat].silent;
        return fill(beat, is_rest ? any_filling(beat) : Filling{0, true});
    }
    // A bar takes the rhythm of another.
    const int bar = ground_.beats[beat].bar;
    const int from = dice_.chance(0.5) && bar > 0 ? bar - 1 : dice_.below(ground_.bars());
    const auto at = [&](int which) { return ground_.bar_start[static_cast<std::size_t>(which)] / T; };
    if (at(bar + 1) - at(bar) != at(from + 1) - at(from)) return;
    for (int k = 0; k < at(bar + 1) - at(bar); ++k) {
        const auto target = static_cast<std::size_t>(at(bar) + k);
        const auto source = static_cast<std::size_t>(at(from) + k);
        if (may_change(target) && ground_.beats[source].division == ground_.beats[target].division)
            fill(target, beats_[source]);
    }
}

void RhythmSearch::write_notes() {
    notes_.clear();
    bool sounds = false;
    for (std::size_t b = 0; b < beats_.size(); ++b) {
        const int start = static_cast<int>(b) * T;
        if (beats_[b].silent && sounds) {
            notes_.back().end = start;
            sounds = false;
        }
        const BeatPattern& pattern =
            beat_patterns(ground_.beats[b].division)[static_cast<std::size_t>(beats_[b].pattern)];
        for (int k = 0; k < pattern.count; ++k) {
            const int on = start + pattern.onsets[static_cast<std::size_t>(k)];
            if (sounds) notes_.back().end = on;
            notes_.push_back({on, on + T, 0});
            sounds = true;
        }
    }
    if (sounds) notes_.back().end = ground_.ticks();
}

double RhythmSearch::cost() {
    write_notes();
    if (notes_.empty()) return 1e6;
    const MelodyWeights& weights = melody_weights();
    Figures figures;
    meter_.measure(notes_, figures);
    double out = 0;
    for (const Figure figure : kRhythmFigures) {
        const double by = figures[figure] - aims_[figure];
        const auto k = static_cast<std::size_t>(figure);
        out += weights.figures[k] * cost_of_miss(by / window_.deviation[k]);
    }
    // The end is led up to.
    if (options_.ends && notes_.size() > 2 && notes_.back().on - notes_[notes_.size() - 2].end >= T)
        out += weights.lonely_end;
    // Held or silent for long is no longer music for one line.
    int end = 0;
    for (const TickNote& note : notes_) {
        out += weights.long_note * std::max(0, note.end - note.on - kLong) / T;
        out += weights.long_rest * std::max(0, note.on - end - kLong) / T;
        end = note.end;
    }
    for (std::size_t b = 0; b < beats_.size(); ++b) {
        if (beats_[b].pattern == 0) continue;
        // A rest of less than a beat chops the phrase.
        if (b > 0 && beats_[b].silent && !(beats_[b - 1].pattern == 0 && beats_[b - 1].silent))
            out += weights.short_rest;
        out -=
            weights.vocabulary *
            std::log(
                beat_patterns(ground_.beats[b].division)[static_cast<std::size_t>(beats_[b].pattern)].share);
    }
    return out;
}

std::vector<TickNote> RhythmSearch::find() {
    begin();
    double now = cost();
    const int tries = static_cast<int>(melody_weights().tries_a_beat * static_cast<double>(beats_.size()));
    for (int i = 0; i < tries; ++i) {
        if (i == tries / 3) {
            plant_motif();
            now = cost();
        }
        const double heat = 1.0 * std::pow(0.02, static_cast<double>(i) / tries);
        changed_.clear();
        propose();
        if (changed_.empty()) continue;
        const double then = cost();
        if (then <= now || dice_.unit() < std::exp((now - then) / heat)) {
            now = then;
            continue;
        }
        for (auto back = changed_.rbegin(); back != changed_.rend(); ++back)
            beats_[back->first] = back->second;
    }
    write_notes();
    return notes_;
}

// The beginning of an early phrase comes again where later phrases begin at the same place in their bars.
void RhythmSearch::plant_motif() {
    constexpr std::size_t kLength = 4;  // beats
    constexpr std::size_t kApart = 12;  // from one to the next
    constexpr std::size_t kTimes = 3;   // in all
    const std::size_t n = beats_.size();
    const auto plays = [&](std::size_t b) { return beats_[b].pattern != 0; };
    const auto begins = [&](std::size_t b) {
        return plays(b) && (b == 0 || (!plays(b - 1) && beats_[b - 1].silent));
    };
    const auto is_free = [&](std::size_t b) {
        if (b + kLength > n) return false;
        for (std::size_t k = b; k < b + kLength; ++k) {
            if (!may_change(k) || ground_.beats[k].division != ground_.beats[b].division) return false;
        }
        return true;
    };
    std::optional<std::size_t> first;
    std::size_t last = 0;
    for (std::size_t b = 0; b + kLength <= n && motif_at_.size() < kTimes; ++b) {
        if (!begins(b) || !is_free(b)) continue;
        if (!first) {
            int notes = 0;
            for (std::size_t k = b; k < b + kLength; ++k)
                notes += beat_patterns(ground_.beats[k].division)[static_cast<std::size_t>(beats_[k].pattern)]
                             .count;
            if (notes < 4) continue;
            first = last = b;
            motif_at_.push_back(static_cast<int>(b) * T);
            continue;
        }
        const bool fits = b >= last + kApart && ground_.beats[b].in_bar == ground_.beats[*first].in_bar &&
                          ground_.beats[b].division == ground_.beats[*first].division;
        if (!fits) continue;
        for (std::size_t k = 0; k < kLength; ++k) {
            beats_[b + k] = beats_[*first + k];
            // Into the ring of those that change together.
            partner_[b + k] = partner_[*first + k];
            partner_[*first + k] = static_cast<int>(b + k);
        }
        last = b;
        motif_at_.push_back(static_cast<int>(b) * T);
    }
    motif_length_ = static_cast<int>(kLength) * T;
    if (motif_at_.size() < 2) motif_at_.clear();
}

}  // namespace shedbook
