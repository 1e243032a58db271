#include "rhythm.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "note_values.h"

namespace shedbook {
namespace {

constexpr double kOfOnePhrase = 0.4;  // figures of many bars count so much in a few

constexpr double kWholePhrases = 0.5;  // so plain that a motif is a phrase and comes often
constexpr std::int8_t kNothing = 0;    // patterns that every style has
constexpr std::int8_t kOne = 1;

}  // namespace

RhythmSearch::RhythmSearch(const BeatGround& ground, const Figures& aims, const FigureWindow& window,
                           const EtudeStyleRow& style, const RhythmOptions& options, Dice& dice)
    : ground_{ground},
      aims_{aims},
      window_{window},
      figures_{style.figures * (options.is_one_phrase ? kOfOnePhrase : 1)},
      beats_figures_{figures_ * style.beats},
      held_over_{style.held_over},
      options_{options},
      dice_{dice},
      meter_{ground},
      is_plain_(ground.beats.size(), 0),
      starts_bar_(ground.beats.size(), 0),
      duties_{chord_duties(ground)},
      beats_(ground.beats.size()),
      locked_(ground.beats.size(), 0),
      partner_(ground.beats.size()) {
    for (std::size_t i = 0; i < partner_.size(); ++i) partner_[i] = static_cast<int>(i);
    for (const int tick : ground.bar_start) {
        if (tick < ground.ticks()) starts_bar_[static_cast<std::size_t>(tick / kBeatTicks)] = 1;
    }
    const Rational beats = kWhole / ground.beats.front().length;
    longest_rest_ = static_cast<int>((beats * Rational{kBeatTicks}).floor());
    choose_patterns(style);
    for (const BeatChord& chord : ground.chords) {
        if (!chord.sounds || chord.end - chord.start >= 2 * kBeatTicks) continue;
        for (int b = chord.start / kBeatTicks; b * kBeatTicks < chord.end; ++b)
            is_plain_[static_cast<std::size_t>(b)] = 1;
    }
}

// Those of the style that the level and the tempo allow.
void RhythmSearch::choose_patterns(const EtudeStyleRow& style) {
    for (std::size_t division = 0; division < patterns_.size(); ++division) {
        double sum = 0;
        for (const BeatPattern& pattern : style.patterns[division]) {
            const bool in_beat = pattern.count == 0 || (pattern.count == 1 && pattern.onsets[0] == 0);
            const Duration written = in_beat ? kQuarter
                                     : division == static_cast<std::size_t>(Beat::Division::Three)
                                         ? kEighth
                                         : value_of(pattern);
            if (written < options_.finest) continue;
            patterns_[division].push_back(pattern);
            sum += pattern.share;
        }
        for (BeatPattern& pattern : patterns_[division]) pattern.share /= sum;
    }
}

// Under a chord of a beat the line is plain: nothing finer than eighths, nothing struck off the beat alone.
bool RhythmSearch::suits(std::size_t beat, Filling filling) const {
    if (is_plain_[beat] == 0) return true;
    const BeatPattern& pattern = patterns_[static_cast<std::size_t>(ground_.beats[beat].division)]
                                          [static_cast<std::size_t>(filling.pattern)];
    return pattern.count <= 2 && (pattern.count == 0 || pattern.onsets[0] == 0) &&
           value_of(pattern) >= kEighth;
}

RhythmSearch::Filling RhythmSearch::any_filling(std::size_t beat) {
    const auto& patterns = patterns_[static_cast<std::size_t>(ground_.beats[beat].division)];
    while (true) {
        double place = dice_.unit();
        std::size_t k = 0;
        while (k + 1 < patterns.size() && (place -= patterns[k].share) > 0) ++k;
        const bool on_beat = patterns[k].count > 0 && patterns[k].onsets[0] == 0;
        const Filling filling{static_cast<std::int8_t>(k), !on_beat && dice_.chance(0.45)};
        if (suits(beat, filling)) return filling;
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
        for (int b = chord.start / kBeatTicks; b * kBeatTicks < chord.end; ++b) {
            beats_[static_cast<std::size_t>(b)] = {0, true};
            locked_[static_cast<std::size_t>(b)] = 1;
        }
    }
    if (options_.one_note_a_chord) {
        for (const BeatChord& chord : ground_.chords) {
            if (!chord.sounds || chord.end - chord.start > 2 * kBeatTicks) continue;
            for (int b = chord.start / kBeatTicks; b * kBeatTicks < chord.end; ++b) {
                const auto beat = static_cast<std::size_t>(b);
                beats_[beat] = {b * kBeatTicks <= chord.start ? kOne : kNothing, false};
                locked_[beat] = 1;
            }
        }
    }
    if (options_.ends) plan_end();
}

// The last chord: one note, held, and then rest; it begins on the last bar's first beat, or on that of a
// chord that comes later.
void RhythmSearch::plan_end() {
    const BeatChord* last = nullptr;
    for (const BeatChord& chord : ground_.chords) last = chord.sounds ? &chord : last;
    if (last == nullptr || ground_.bars() < 2) return;
    const auto first = static_cast<std::size_t>((last->start + kBeatTicks - 1) / kBeatTicks);
    const auto end = static_cast<std::size_t>(last->end / kBeatTicks);
    auto from = static_cast<std::size_t>(ground_.bar_start[static_cast<std::size_t>(ground_.bars()) - 1] /
                                         kBeatTicks);
    // In the last bar that the chord sounds in.
    for (std::size_t bar = 0; bar + 1 < ground_.bar_start.size(); ++bar) {
        const auto start = static_cast<std::size_t>(ground_.bar_start[bar] / kBeatTicks);
        if (start < end) from = start;
    }
    from = std::min(std::max(from, first), end == 0 ? 0 : end - 1);
    // One note cannot both tell a sus chord and end on it: half of the bar is left for the telling.
    if ((last->tell & last->ends) == 0 && end >= from + 2) from += (end - from) / 2;
    const std::size_t n = beats_.size();
    for (std::size_t i = from; i < n; ++i) {
        if (i > from && locked_[i] != 0 && !options_.one_note_a_chord) continue;
        beats_[i] = {kNothing, i > from + (end - from) / 2};
        locked_[i] = 1;
    }
    beats_[from] = {kOne, false};
    for (std::size_t i = end; i < n; ++i) beats_[i].silent = true;
}

void RhythmSearch::fill(std::size_t beat, Filling filling) {
    std::size_t b = beat;
    do {
        if (!suits(b, filling)) return;
        b = static_cast<std::size_t>(partner_[b]);
    } while (b != beat);
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
        if (!suits(beat, beats_[other]) || !suits(other, kept)) return;
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
    const auto at = [&](int which) {
        return ground_.bar_start[static_cast<std::size_t>(which)] / kBeatTicks;
    };
    if (at(bar + 1) - at(bar) != at(from + 1) - at(from)) return;
    for (int k = 0; k < at(bar + 1) - at(bar); ++k) {
        const auto target = static_cast<std::size_t>(at(bar) + k);
        const auto source = static_cast<std::size_t>(at(from) + k);
        if (may_change(target) && may_change(source) &&
            ground_.beats[source].division == ground_.beats[target].division)
            fill(target, beats_[source]);
    }
}

void RhythmSearch::write_notes() {
    notes_.clear();
    bool sounds = false;
    for (std::size_t b = 0; b < beats_.size(); ++b) {
        const int start = static_cast<int>(b) * kBeatTicks;
        const bool must_end = !options_.ties && starts_bar_[b] != 0;
        if ((beats_[b].silent || must_end) && sounds) {
            notes_.back().end = start;
            sounds = false;
        }
        const BeatPattern& pattern = pattern_of(b);
        for (int k = 0; k < pattern.count; ++k) {
            const int on = start + pattern.onsets[static_cast<std::size_t>(k)];
            if (sounds) notes_.back().end = on;
            notes_.push_back({on, on + kBeatTicks, 0});
            sounds = true;
        }
    }
    if (sounds) notes_.back().end = ground_.ticks();
}

// A note that goes on under a chord with which it has nothing in common ends there, and any note at the
// second change that it sounds under.
void RhythmSearch::cut_at_changes() {
    std::size_t first = 0;
    for (TickNote& note : notes_) {
        const BeatChord* own = nullptr;
        int passed = 0;
        while (first < ground_.chords.size() && ground_.chords[first].end <= note.on) ++first;
        for (std::size_t c = first; c < ground_.chords.size() && ground_.chords[c].start < note.end; ++c) {
            const BeatChord& chord = ground_.chords[c];
            if (!chord.sounds) continue;
            const bool is_early = note.on % kBeatTicks != 0 && chord.start - note.on <= kBeatTicks / 2;
            if (own == nullptr || is_early) {
                own = &chord;  // the one that it is heard with
                continue;
            }
            const bool goes_on = chord.meaning == (&chord - 1)->meaning;
            const bool suits = (restful(*own) & own->scale & restful(chord) & chord.scale) != 0;
            if (suits && (goes_on || ++passed < 2)) continue;
            note.end = chord.start;
            break;
        }
    }
}

// A chord that is silent all the same gets a note.
void RhythmSearch::mend() {
    for (const ChordDuty& chord : duties_) {
        write_notes();
        cut_at_changes();
        const bool heard =
            std::ranges::any_of(notes_, [&](const TickNote& note) { return is_heard(chord, note); });
        const auto beat = static_cast<std::size_t>((chord.start + kBeatTicks - 1) / kBeatTicks);
        if (!heard && beat < beats_.size()) beats_[beat] = {kOne, false};
    }
    for (const BeatChord& chord : ground_.chords) {
        const auto beat = static_cast<std::size_t>((chord.start + kBeatTicks - 1) / kBeatTicks);
        if (!chord.sounds || beat >= beats_.size() || static_cast<int>(beat) * kBeatTicks >= chord.end)
            continue;
        write_notes();
        cut_at_changes();
        if (!is_met(chord)) beats_[beat] = {kOne, false};
    }
    write_notes();
    cut_at_changes();
}

bool RhythmSearch::changes_nothing() const {
    return std::ranges::all_of(changed_, [&](const auto& was) { return beats_[was.first] == was.second; });
}

std::vector<TickNote> RhythmSearch::find() {
    begin();
    double now = cost();
    constexpr int kFewestTries = 600;  // a phrase is soon heard through
    const int tries = std::max(
        kFewestTries, static_cast<int>(melody_weights().tries_a_beat * static_cast<double>(beats_.size())));
    for (int i = 0; i < tries; ++i) {
        if (i == tries / 3) {
            plant_motif();
            now = cost();
        }
        const double heat = 1.0 * std::pow(0.02, static_cast<double>(i) / tries);
        changed_.clear();
        propose();
        if (changes_nothing()) continue;
        Dice thrown = dice_;
        const double most = now - heat * std::log(thrown.unit());
        const double then = cost(most);
        if (then > now) dice_ = thrown;
        if (then <= most) {
            now = then;
            continue;
        }
        for (auto back = changed_.rbegin(); back != changed_.rend(); ++back)
            beats_[back->first] = back->second;
    }
    mend();
    return notes_;
}

// The beginning of an early phrase comes again where later phrases begin at the same place in their bars.
void RhythmSearch::plant_motif() {
    const bool is_plain = options_.plain > kWholePhrases;
    const std::size_t length = is_plain ? 8 : 4;  // beats
    const std::size_t apart = is_plain ? 8 : 12;  // from one to the next
    const std::size_t times = is_plain ? 6 : 3;   // in all
    const std::size_t n = beats_.size();
    const auto plays = [&](std::size_t b) { return beats_[b].pattern != 0; };
    const auto begins = [&](std::size_t b) {
        return plays(b) && (b == 0 || (!plays(b - 1) && beats_[b - 1].silent));
    };
    const auto is_free = [&](std::size_t b) {
        if (b + length > n) return false;
        for (std::size_t k = b; k < b + length; ++k) {
            if (!may_change(k) || is_plain_[k] != 0 || ground_.beats[k].division != ground_.beats[b].division)
                return false;
        }
        return true;
    };
    std::optional<std::size_t> first;
    std::size_t last = 0;
    for (std::size_t b = 0; b + length <= n && motif_at_.size() < times; ++b) {
        if (!begins(b) || !is_free(b)) continue;
        if (!first) {
            int notes = 0;
            for (std::size_t k = b; k < b + length; ++k) notes += pattern_of(k).count;
            if (notes < 4) continue;
            first = last = b;
            motif_at_.push_back(static_cast<int>(b) * kBeatTicks);
            continue;
        }
        const bool fits = b >= last + apart && ground_.beats[b].in_bar == ground_.beats[*first].in_bar &&
                          ground_.beats[b].division == ground_.beats[*first].division;
        if (!fits) continue;
        for (std::size_t k = 0; k < length; ++k) {
            beats_[b + k] = beats_[*first + k];
            // Into the ring of those that change together.
            partner_[b + k] = partner_[*first + k];
            partner_[*first + k] = static_cast<int>(b + k);
        }
        last = b;
        motif_at_.push_back(static_cast<int>(b) * kBeatTicks);
    }
    motif_length_ = static_cast<int>(length) * kBeatTicks;
    if (motif_at_.size() < 2) motif_at_.clear();
}

}  // namespace shedbook
