#include "melody.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdlib>

namespace shedbook {
namespace {

constexpr double kStates = 0.6;  // so plain that every chord is stated, whatever it costs

// Heard as a wrong note, however it goes on.
SoundSet major_third_of_minor(const BeatChord& chord) {
    const int root = chord.span->symbol->root.semitone();
    return holds(chord.tones, root + 3) && !holds(chord.all, root + 4) ? sound(root + 4) : 0;
}

// Of a V behind its ii: on a beat of the ii it would be there too early.
SoundSet third_ahead(const BeatChord& chord, const BeatChord& next) {
    constexpr int kFourth = 5;
    constexpr int kThird = 4;
    if (!next.sounds || family(*next.span->symbol) != ChordFamily::Dominant) return 0;
    const int root = chord.span->symbol->root.semitone();
    const bool is_two =
        holds(chord.tones, root + 3) && next.span->symbol->root.semitone() == (root + kFourth) % 12;
    return is_two ? sound(root + kFourth + kThird) & ~chord.all : 0;
}

}  // namespace

MelodySearch::MelodySearch(const BeatGround& ground, const std::vector<TickNote>& notes, const Figures& aims,
                           const FigureWindow& window, const MelodyOptions& options, Dice& dice)
    : ground_{ground},
      notes_{notes},
      aims_{aims},
      window_{window},
      options_{options},
      dice_{dice},
      meter_{ground, notes, window.intervals} {
    assert(options_.high - options_.low <= kWidest);
    prepare();
    pair_motif();
}

void MelodySearch::prepare() {
    for (int move = -kWidest; move <= kWidest; ++move) {
        const double share = window_.intervals[static_cast<std::size_t>(std::clamp(move, -13, 13) + 13)];
        surprise_[static_cast<std::size_t>(move + kWidest)] = -std::log(std::max(share, 1e-4));
    }
    std::size_t c = 0;
    for (const TickNote& note : notes_) {
        while (c + 1 < ground_.chords.size() && note.on >= ground_.chords[c].end) ++c;
        std::size_t heard = c;
        if (c + 1 < ground_.chords.size() && ground_.chords[c + 1].sounds) {
            const int change = ground_.chords[c + 1].start;
            const bool off_beat = note.on % kBeatTicks != 0;
            if (off_beat && change - note.on <= kBeatTicks / 2 && note.end > change) heard = c + 1;
        }
        const BeatChord& chord = ground_.chords[heard];
        heard_.push_back(static_cast<int>(heard));
        SoundSet scale = chord.scale & chord.inside;
        if (options_.scale_only && chord.sounds && (set_of(chord.span->notes) & chord.tell) != 0)
            scale &= set_of(chord.span->notes);
        scale_.push_back(chord.sounds ? scale : kAllSounds);
        tones_.push_back(chord.sounds ? chord.tones : kAllSounds);
        avoid_.push_back(chord.avoid);
        ends_.push_back(chord.sounds && (chord.ends & scale) != 0 ? chord.ends : tones_.back());
        foreign_third_.push_back(chord.sounds ? major_third_of_minor(chord) : 0);
        passing_.push_back(0);
        never_.push_back(0);
        is_plain_.push_back(
            chord.sounds && note.on % kBeatTicks == 0 && chord.end - chord.start < 2 * kBeatTicks ? 1 : 0);
        is_long_.push_back(note.end - note.on > kBeatTicks ? 1 : 0);
        const Beat& beat = ground_.beats[static_cast<std::size_t>(note.on / kBeatTicks)];
        const bool is_change = note.on % kBeatTicks == 0 && (beat.in_bar == 0 || note.on == chord.start);
        is_change_.push_back(is_change ? 1 : 0);
        is_strong_.push_back(note.on % kBeatTicks == 0 && beat.in_bar % 2 == 0 ? 1 : 0);
    }
    pitches_.assign(notes_.size(), 0);
    tense_.assign(notes_.size(), 0);
    for (std::size_t i = 0; i < notes_.size(); ++i) {
        prepare_held(i);
        if (options_.plain >= kStates) prepare_rest(i);
    }
    prepare_duties();
    prepare_statements();
    if (options_.handling != nullptr && options_.handling->sings) prepare_names();
}

// A note that goes on under the next chord is one of its tones, or of its colours where it may; one that
// stands on a beat for a beat does not rub against a chord tone, unless it is on its way; the third of a sus
// chord only passes.
void MelodySearch::prepare_held(std::size_t i) {
    const TickNote& note = notes_[i];
    const auto heard = static_cast<std::size_t>(heard_[i]);
    for (std::size_t c = heard + 1; c < ground_.chords.size(); ++c) {
        const BeatChord& next = ground_.chords[c];
        if (next.start >= note.end) break;
        const SoundSet common = scale_[i] & restful(next) & next.scale;
        if (next.sounds && common != 0) scale_[i] = common;
        const SoundSet tones = scale_[i] & next.tones;
        if (next.sounds && options_.plain >= kStates && tones != 0) scale_[i] = tones;
    }
    const BeatChord& chord = ground_.chords[heard];
    if (!chord.sounds) return;
    never_[i] = chord.sus_third;
    if (note.on < chord.start && (scale_[i] & restful(chord)) != 0) scale_[i] &= restful(chord);
    // Struck early and held through the whole chord: fit for the chord before or behind it as well.
    if (note.on < chord.start && note.end >= chord.end) {
        SoundSet around = ground_.chords[heard - 1].inside;
        if (heard + 1 < ground_.chords.size()) around |= ground_.chords[heard + 1].inside;
        if ((scale_[i] & around) != 0) scale_[i] &= around;
    }
    const bool on_beat = note.on % kBeatTicks == 0;
    const bool is_long = note.end - note.on >= kBeatTicks;
    if ((on_beat || is_long) && (scale_[i] & ~chord.sus_third) != 0) scale_[i] &= ~chord.sus_third;
    if (!on_beat || !is_long || (scale_[i] & ~chord.rubs) == 0) return;
    if (note.end - note.on == kBeatTicks) passing_[i] = scale_[i] & chord.rubs;
    scale_[i] &= ~chord.rubs;
}

// A note that is held over a beat, or that a rest follows, is heard long enough to be a wrong one; so is the
// first of all.
void MelodySearch::prepare_rest(std::size_t i) {
    constexpr int kHalfBeat = kBeatTicks / 2;
    const TickNote& note = notes_[i];
    const BeatChord& chord = ground_.chords[static_cast<std::size_t>(heard_[i])];
    const int next_beat = (note.on / kBeatTicks + 1) * kBeatTicks;
    const bool is_held = note.end > next_beat;
    const bool rests = i + 1 == notes_.size() || notes_[i + 1].on - note.end >= kHalfBeat;
    if (!chord.sounds || !(is_held || rests || i == 0)) return;
    const SoundSet scale = set_of(chord.span->notes);
    const SoundSet wanted = i == 0 ? chord.tones : held_over(chord, *chord.span->symbol, scale);
    if ((scale_[i] & wanted) != 0) scale_[i] &= wanted;
}

void MelodySearch::prepare_duties() {
    std::size_t i = 0;
    for (const ChordDuty& chord : chord_duties(ground_)) {
        while (i < notes_.size() && !is_heard(chord, notes_[i]) && notes_[i].on < chord.start) ++i;
        std::size_t last = i;
        while (last < notes_.size() && is_heard(chord, notes_[last])) ++last;
        if (last > i) duties_.push_back({chord.tell, i, last, chord.start});
    }
    for (std::size_t first = 0, last = 0; first < notes_.size(); first = last) {
        while (last < notes_.size() && heard_[last] == heard_[first]) ++last;
        const BeatChord& chord = ground_.chords[static_cast<std::size_t>(heard_[first])];
        if (!chord.sounds || last - first < 2) continue;
        const SoundSet altered = altered_tones(chord, set_of(chord.span->notes), chord.span->symbol->root);
        if (altered != 0) altered_.push_back({altered, first, last, chord.start});
        prepare_dominant(chord, altered, first, last);
        if (heard_[first] == 0 || !ground_.chords[static_cast<std::size_t>(heard_[first]) - 1].sounds)
            continue;
        const ScaleSpan& before = *ground_.chords[static_cast<std::size_t>(heard_[first]) - 1].span;
        const SoundSet third = leading_third(chord, set_of(before.notes), chord.span->symbol->root);
        if (third != 0) altered_.push_back({third, first, last, chord.start});
    }
}

// By chords alike in a row as one.
void MelodySearch::prepare_statements() {
    std::size_t i = 0;
    for (std::size_t c = 0, next = 0; c < ground_.chords.size(); c = next) {
        const BeatChord& chord = ground_.chords[c];
        ChordDuty duty{chord.start, chord.end, chord.tell};
        for (next = c + 1; next < ground_.chords.size(); ++next) {
            const BeatChord& other = ground_.chords[next];
            if (!chord.sounds || !other.sounds || other.meaning != chord.meaning) break;
            duty.end = other.end;
        }
        if (!chord.sounds || chord.tell == 0) continue;
        while (i < notes_.size() && !is_heard(duty, notes_[i]) && notes_[i].on < duty.start) ++i;
        std::size_t last = i;
        while (last < notes_.size() && is_heard(duty, notes_[last])) ++last;
        if (last == i) continue;
        const bool is_short = duty.end - duty.start < 2 * kBeatTicks;
        ChordStatement says = statement_of(chord, *chord.span->symbol);
        if (next < ground_.chords.size()) says.denies |= third_ahead(chord, ground_.chords[next]);
        statements_.push_back({std::move(says), i, last, duty.start, is_short});
    }
}

// Its third is to be heard in its own time; that and what is altered lead on by step.
void MelodySearch::prepare_dominant(const BeatChord& chord, SoundSet altered, std::size_t first,
                                    std::size_t last) {
    if (family(*chord.span->symbol) != ChordFamily::Dominant) return;
    constexpr int kThirdAbove = 4;
    const SoundSet third = chord.guide & sound(chord.span->symbol->root.semitone() + kThirdAbove);
    for (std::size_t i = first; i < last; ++i) tense_[i] = (altered & ~chord.tones) | third;
    const bool is_long = chord.end - chord.start >= 2 * kBeatTicks;
    if (third != 0 && is_long) thirds_.push_back({third, first, last, chord.start});
}

bool MelodySearch::is_told(const Duty& duty) const {
    for (std::size_t i = duty.first; i < duty.last; ++i) {
        if (holds(duty.tell, pitches_[i])) return true;
    }
    return false;
}

bool MelodySearch::is_told_on_a_beat(const Duty& duty) const {
    for (std::size_t i = duty.first; i < duty.last; ++i) {
        const bool is_early = notes_[i].on < duty.start;
        if ((is_early || notes_[i].on % kBeatTicks == 0) && holds(duty.tell, pitches_[i])) return true;
    }
    return false;
}

void MelodySearch::pair_motif() {
    for (std::size_t k = 1; k < options_.motif_at.size(); ++k) {
        std::size_t j = 0;
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            const int in_motif = notes_[i].on - options_.motif_at[0];
            if (in_motif < 0 || in_motif >= options_.motif_length) continue;
            while (j < notes_.size() && notes_[j].on < options_.motif_at[k] + in_motif) ++j;
            if (j < notes_.size() && notes_[j].on == options_.motif_at[k] + in_motif)
                motif_.push_back({i, j});
        }
    }
}

std::size_t MelodySearch::resolution(std::size_t i) const {
    const int pitch = pitches_[i];
    for (std::size_t j = i + 1; j <= i + 2 && j < pitches_.size() && meter_.goes_on(j - 1); ++j) {
        const int apart = std::abs(pitches_[j] - pitch);
        if (apart < 1 || apart > 2 || !in_scale(j, pitches_[j])) continue;
        // What lies between surrounds the note that it comes to.
        const int off = j == i + 2 ? std::abs(pitches_[i + 1] - pitches_[j]) : 1;
        if (off >= 1 && off <= 2) return j;
    }
    return 0;
}

bool MelodySearch::is_legal(std::size_t i) const {
    const int pitch = pitches_[i];
    if (pitch < options_.low || pitch > options_.high) return false;
    if (i == 0 && options_.before && std::abs(pitch - *options_.before) > options_.largest_leap) return false;
    if (meter_.goes_on(i) && std::abs(pitches_[i + 1] - pitch) > options_.largest_leap) return false;
    if (in_scale(i, pitch)) return rests_well(i);
    if (holds(passing_[i], pitch)) {
        const int step = i + 1 < pitches_.size() ? std::abs(pitches_[i + 1] - pitch) : 0;
        return step >= 1 && step <= 2;
    }
    // Outside: short, and on its way.
    if (!options_.may_leave_scale || notes_[i].end - notes_[i].on > kBeatTicks / 2) return false;
    if (notes_[i].on % kBeatTicks == 0 && holds(never_[i], pitch)) return false;
    if (!options_.outside_on_beat && notes_[i].on % kBeatTicks == 0) return false;
    if (!options_.outside_on_change && is_change_[i] != 0) return false;
    return resolution(i) != 0;
}

bool MelodySearch::rests_well(std::size_t i) const {
    const bool is_last = i + 1 == pitches_.size();
    if (is_last && !holds(ends_[i], pitches_[i])) return false;
    return !((is_last || !meter_.goes_on(i)) && holds(avoid_[i], pitches_[i]) && is_long_[i] != 0);
}

bool MelodySearch::is_legal() const {
    for (const auto& [at, pitch] : changed_) {
        if (pitches_[at] < options_.low || pitches_[at] > options_.high) return false;
    }
    // A change is felt three notes before it, where one may have counted on it.
    for (const auto& [at, pitch] : changed_) {
        for (std::size_t i = at >= 3 ? at - 3 : 0; i <= at; ++i) {
            if (!is_legal(i)) return false;
        }
    }
    return true;
}

// How likely each pitch is at each note by itself: a table of notes by pitches from the lowest up.
std::vector<double> MelodySearch::chances_of_pitches() const {
    const std::size_t n = notes_.size();
    const std::size_t width = this->width();
    const double middle = (options_.low + options_.high) / 2.0;
    const double spread = std::max(3.0, aims_[Figure::MiddleHalf] * 0.75);
    std::vector<double> out(n * width);
    for (std::size_t i = 0; i < n; ++i) {
        const bool is_last = i + 1 == n;
        for (std::size_t k = 0; k < width; ++k) {
            const int pitch = options_.low + static_cast<int>(k);
            const bool is_tone = holds(tones_[i], pitch);
            if (!in_scale(i, pitch) || (is_last && !holds(ends_[i], pitch))) continue;
            const double off = (pitch - middle) / spread;
            double chance = std::exp(-off * off / 2);
            if (is_tone && is_strong_[i] != 0) chance *= 1.3;
            if (holds(avoid_[i], pitch) && (is_long_[i] != 0 || is_strong_[i] != 0)) chance *= 0.2;
            if ((is_last || !meter_.goes_on(i)) && holds(avoid_[i], pitch)) chance *= 1e-3;
            out[i * width + k] = chance;
        }
    }
    return out;
}

// The chance of an interval between a note and the next; over a breath nearly any will do.
double MelodySearch::chance_of_move(int move, bool joined) const {
    const double chance = std::abs(move) > options_.largest_leap
                              ? 0
                              : std::exp(-surprise_[static_cast<std::size_t>(move + kWidest)]);
    return joined ? chance : 0.02 + chance;
}

// A line of scale notes by the chances of its intervals, with the chord tones on the beats: the chances of
// all lines up to each note are summed, then one line is drawn from the last note backwards.
void MelodySearch::draw_line() {
    const std::size_t n = notes_.size();
    const std::size_t width = this->width();
    const std::vector<double> weight = chances_of_pitches();
    std::array<std::array<double, 2 * kWidest + 1>, 2> step{};  // over a breath, joined
    for (int move = -kWidest; move <= kWidest; ++move) {
        for (const std::size_t joined : {0U, 1U})
            step[joined][static_cast<std::size_t>(move + kWidest)] = chance_of_move(move, joined == 1);
    }
    std::vector<double> sums(n * width);
    for (std::size_t i = 0; i < n; ++i) {
        const auto& steps = step[i > 0 && meter_.goes_on(i - 1) ? 1 : 0];
        double all = 0;
        for (std::size_t k = 0; k < width; ++k) {
            if (weight[i * width + k] <= 0) continue;
            double from = 0;
            if (i == 0) {
                const int by = options_.before ? options_.low + static_cast<int>(k) - *options_.before : 0;
                from = options_.before ? chance_of_move(std::clamp(by, -kWidest, kWidest), true) : 1;
            } else {
                for (std::size_t j = 0; j < width; ++j)
                    from += sums[(i - 1) * width + j] * steps[k + kWidest - j];
            }
            all += sums[i * width + k] = from * weight[i * width + k];
        }
        if (all <= 0) {  // no scale note in reach: begin anew
            for (std::size_t k = 0; k < width; ++k) all += sums[i * width + k] = weight[i * width + k];
        }
        for (std::size_t k = 0; k < width; ++k) sums[i * width + k] /= all;
    }
    std::vector<double> chance(width);
    for (std::size_t i = n; i-- > 0;) {
        double all = 0;
        for (std::size_t k = 0; k < width; ++k) {
            double to = 1;
            if (i + 1 < n) {
                const auto next = static_cast<std::size_t>(pitches_[i + 1] - options_.low);
                to = step[meter_.goes_on(i) ? 1 : 0][next + kWidest - k];
            }
            all += chance[k] = sums[i * width + k] * to;
        }
        double place = dice_.unit() * all;
        std::size_t k = 0;
        while (k + 1 < width && (place -= chance[k]) > 0) ++k;
        while (k > 0 && chance[k] <= 0) --k;
        pitches_[i] = options_.low + static_cast<int>(k);
    }
}

bool MelodySearch::changes_nothing() const {
    return std::ranges::all_of(changed_, [&](const auto& was) { return pitches_[was.first] == was.second; });
}

std::vector<int> MelodySearch::find() {
    if (notes_.empty()) return {};
    draw_line();
    double now = cost();
    // A few bars are soon heard through, and each of their notes tells.
    constexpr int kFewest = 1500;
    const int tries = std::max(
        kFewest, static_cast<int>(melody_weights().tries_a_note * static_cast<double>(pitches_.size())));
    for (int t = 0; t < tries; ++t) {
        const double heat = 1.0 * std::pow(0.02, static_cast<double>(t) / tries);
        changed_.clear();
        bool keeps = propose() && is_legal();
        if (keeps && changes_nothing()) continue;
        if (keeps) {
            Dice thrown = dice_;
            const double most = now - heat * std::log(thrown.unit());
            const double then = cost(most);
            keeps = then <= most;
            if (then > now) dice_ = thrown;
            if (keeps) now = then;
        }
        if (!keeps) take_back();
    }
    if (options_.says_thirds) {
        for (const Duty& third : thirds_) {
            if (!is_told(third)) tell(third);
        }
    }
    for (const Duty& duty : duties_) {
        if (!is_told(duty)) tell(duty);
    }
    if (options_.plain >= kStates) {
        for (const Statement& statement : statements_) state(statement);
    }
    return pitches_;
}

}  // namespace shedbook
