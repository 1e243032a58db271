// What a rhythm costs: its figures beside those aimed at, silence under the chords, and phrases that are
// none.
#include <algorithm>
#include <array>
#include <cmath>

#include "rhythm.h"

namespace shedbook {
namespace {

constexpr int kLong = 6 * kBeatTicks;

constexpr std::array<Figure, 10> kPhraseFigures{
    Figure::PhraseNotes, Figure::PhraseBeats,   Figure::PhraseSpread, Figure::Rests,
    Figure::PhraseMax,   Figure::StartOne,      Figure::Density,      Figure::RhythmVariety,
    Figure::RhythmTop,   Figure::RhythmPrevious};
constexpr std::array<Figure, 7> kBeatFigures{Figure::StartOff, Figure::EndOff,       Figure::Syncopation,
                                             Figure::OffBeat,  Figure::ValueVariety, Figure::Eighths,
                                             Figure::Fast};

}  // namespace

double RhythmSearch::cost(double most) {
    write_notes();
    if (notes_.empty()) return 1e6;
    const MelodyWeights& weights = melody_weights();
    double out = 0;
    // The end is led up to.
    if (options_.ends && notes_.size() > 2 && notes_.back().on - notes_[notes_.size() - 2].end >= kBeatTicks)
        out += weights.lonely_end;
    // Held or silent for long is no longer music for one line.
    int end = -options_.silent_before;
    for (const TickNote& note : notes_) {
        out += weights.long_note * std::max(0, note.end - note.on - kLong) / kBeatTicks;
        out += weights.long_rest * std::max(0, note.on - end - longest_rest_) / kBeatTicks;
        if (note.on > end && note.on % kBeatTicks == kBeatTicks / 4) out += weights.late_start;
        end = note.end;
    }
    // What follows begins with a rest of its own, perhaps.
    if (!options_.ends)
        out += weights.long_rest * std::max(0, ground_.ticks() - end - longest_rest_ / 2) / kBeatTicks;
    for (std::size_t b = 0; b < beats_.size(); ++b) {
        if (beats_[b].pattern == 0) continue;
        // A rest of less than a beat chops the phrase.
        if (b > 0 && beats_[b].silent && !(beats_[b - 1].pattern == 0 && beats_[b - 1].silent))
            out += weights.short_rest;
        out -= weights.vocabulary * std::log(pattern_of(b).share);
    }
    if (held_over_ > 0) out += held_over_cost();
    if (out > most) return out;
    out += silence_cost() + options_.plain * phrase_cost();
    if (out > most) return out;
    Figures figures;
    meter_.measure(notes_, figures);
    const auto miss = [&](Figure figure) {
        const double by = figures[figure] - aims_[figure];
        const auto k = static_cast<std::size_t>(figure);
        return weights.figures[k] * cost_of_miss(by / window_.deviation[k]);
    };
    for (const Figure figure : kPhraseFigures) out += figures_ * miss(figure);
    for (const Figure figure : kBeatFigures) out += beats_figures_ * miss(figure);
    return out;
}

double RhythmSearch::held_over_cost() const {
    const auto is_held = [](const TickNote& note) {
        return note.on % kBeatTicks != 0 && note.end > (note.on / kBeatTicks + 1) * kBeatTicks;
    };
    return held_over_ * static_cast<double>(std::ranges::count_if(notes_, is_held));
}

// Something sounds under the chord.
bool RhythmSearch::is_met(const BeatChord& chord) const {
    const auto note = std::ranges::upper_bound(notes_, chord.start, {}, &TickNote::end);
    return note != notes_.end() && note->on < chord.end;
}

// A phrase is more than a crumb, and rests on its last note.
double RhythmSearch::phrase_cost() const {
    constexpr int kFewest = 4;
    const MelodyWeights& weights = melody_weights();
    double out = 0;
    int count = 0;
    for (std::size_t i = 0; i < notes_.size(); ++i) {
        ++count;
        const bool is_last = i + 1 == notes_.size();
        const bool is_weak =
            notes_[i].on % kBeatTicks == 0 &&
            ground_.beats[static_cast<std::size_t>(notes_[i].on / kBeatTicks)].in_bar % 2 == 1;
        if (is_weak && notes_[i].end - notes_[i].on > kBeatTicks) out += weights.weak_long;
        if (!is_last && notes_[i + 1].on - notes_[i].end < kBeatTicks / 2) continue;
        if (!is_last && options_.is_one_phrase) out += weights.torn;
        // The last note of all is led to by a weight of its own.
        if (!(is_last && options_.ends)) out += weights.crumb * std::max(0, kFewest - count);
        if (notes_[i].end - notes_[i].on < kBeatTicks) out += weights.clipped;
        count = 0;
    }
    return out;
}

// Fewer than two notes of those from `first` on are heard with it, or none before its third beat.
bool RhythmSearch::is_thin(const ChordDuty& chord, std::size_t first) const {
    int count = 0;
    bool is_early = false;
    for (std::size_t i = first == 0 ? 0 : first - 1; i < notes_.size() && notes_[i].on < chord.end; ++i) {
        if (!is_heard(chord, notes_[i])) continue;
        ++count;
        is_early = is_early || notes_[i].on < chord.start + 2 * kBeatTicks;
    }
    return count < 2 || !is_early;
}

// An etude shows the chords: where one passes in silence, or a bar does, that costs more than any figure.
double RhythmSearch::silence_cost() const {
    const MelodyWeights& weights = melody_weights();
    double out = 0;
    std::size_t i = 0;
    for (const ChordDuty& chord : duties_) {
        while (i < notes_.size() && notes_[i].end <= chord.start) ++i;
        std::size_t k = i;
        while (k < notes_.size() && notes_[k].on < chord.end && !is_heard(chord, notes_[k])) ++k;
        if (k == notes_.size() || notes_[k].on >= chord.end) out += weights.untold_bar;
        const auto struck = std::ranges::lower_bound(notes_, chord.start - kBeatTicks / 2, {}, &TickNote::on);
        const bool is_struck = struck != notes_.end() && struck->on < chord.end;
        if (!is_struck) out += options_.plain * weights.unstruck;
        if (!options_.one_note_a_chord && chord.end < ground_.ticks() && is_thin(chord, i))
            out += options_.plain * weights.thin;
    }
    for (const BeatChord& chord : ground_.chords) {
        const bool is_short = chord.sounds && chord.end - chord.start < 2 * kBeatTicks;
        if (is_short && !is_met(chord)) out += weights.unmet;
    }
    i = 0;
    for (std::size_t bar = 0; bar + 1 < ground_.bar_start.size(); ++bar) {
        if (locked_[static_cast<std::size_t>(ground_.bar_start[bar] / kBeatTicks)] != 0) continue;
        while (i < notes_.size() && notes_[i].end <= ground_.bar_start[bar]) ++i;
        if (i == notes_.size() || notes_[i].on >= ground_.bar_start[bar + 1]) out += weights.untold_bar;
    }
    return out;
}

}  // namespace shedbook
