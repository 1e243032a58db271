// The figures of pitch: see figures.h. Definitions as those of the solos in melody_figures.toml.
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <map>

#include "figures.h"

namespace shedbook {

PitchMeter::PitchMeter(const BeatGround& ground, const std::vector<TickNote>& notes,
                       const IntervalShape& usual)
    : ground_{&ground}, usual_{usual}, count_{notes.size()} {
    int bar = 0;
    for (std::size_t i = 0; i < count_; ++i) {
        const bool more = i + 1 < count_;
        goes_on_.push_back(more && notes[i + 1].on - notes[i].end < kBeatTicks ? 1 : 0);
        apart_.push_back(more ? std::min(notes[i + 1].on - notes[i].on, 8 * kBeatTicks) : 0);
        while (notes[i].on >= ground.bar_start[static_cast<std::size_t>(bar) + 1]) ++bar;
        bar_of_.push_back(bar);
        const int in_bar = notes[i].on - ground.bar_start[static_cast<std::size_t>(bar)];
        in_bar_.push_back(in_bar);
        onset_.push_back(notes[i].on);
        place_.push_back(in_bar % kBeatTicks != 0 ? 2 : in_bar % (2 * kBeatTicks) == 0 ? 0 : 1);
    }
    prepare_chords(notes);
    prepare_changes(notes);
    prepare_spans();
    moves_.resize(count_);
    inside_.resize(count_);
    std::size_t places = 64;
    for (; places < 4 * count_; places *= 2) --table_shift_;
    table_.resize(places);
    times_.resize(places);
}

void PitchMeter::prepare_chords(const std::vector<TickNote>& notes) {
    std::map<int, int> weight;
    std::map<int, SoundSet> tones;
    std::size_t c = 0;
    int all = 0;
    int most = 0;
    for (const TickNote& note : notes) {
        while (c < ground_->chords.size() && note.on >= ground_->chords[c].end) ++c;
        const bool sounds =
            c < ground_->chords.size() && ground_->chords[c].sounds && note.on >= ground_->chords[c].start;
        chord_of_.push_back(sounds ? static_cast<int>(c) : -1);
        // Chords alike that follow each other are one.
        std::size_t first = c;
        while (sounds && first > 0 && ground_->chords[first - 1].meaning == ground_->chords[c].meaning)
            --first;
        group_of_.push_back(sounds ? static_cast<int>(first) : -1);
        if (!sounds) continue;
        const BeatChord& chord = ground_->chords[c];
        ++weight[chord.meaning];
        tones[chord.meaning] = chord.tones;
        most = std::max(most, chord.meaning);
        ++all;
    }
    lift_.assign(static_cast<std::size_t>(most) + 1, {});
    has_lift_ = weight.size() > 1 && all >= 10;
    if (!has_lift_) return;
    for (const auto& [own, count] : weight) {
        for (int pc = 0; pc < 12; ++pc) {
            double other = 0;
            for (const auto& [meaning, times] : weight) {
                if (meaning != own && holds(tones[meaning], pc)) other += times;
            }
            lift_[static_cast<std::size_t>(own)][static_cast<std::size_t>(pc)] =
                ((holds(tones[own], pc) ? 1.0 : 0.0) - other / (all - count)) / all;
        }
    }
}

void PitchMeter::prepare_changes(const std::vector<TickNote>& notes) {
    // Chords alike that follow each other are one.
    int before = -1;
    for (std::size_t c = 0; c < ground_->chords.size(); ++c) {
        const BeatChord& chord = ground_->chords[c];
        const int meaning = chord.sounds ? chord.meaning : 0;
        const bool changes = before > 0 && meaning > 0 && meaning != before;
        before = meaning;
        if (!changes) continue;
        int end = chord.end;
        for (std::size_t d = c + 1; d < ground_->chords.size() && ground_->chords[d].meaning == meaning; ++d)
            end = ground_->chords[d].end;
        auto i = static_cast<std::size_t>(std::ranges::lower_bound(onset_, chord.start) - onset_.begin());
        const bool struck = i < count_ && notes[i].on == chord.start;
        if (i > 0 && notes[i - 1].end > chord.start && chord.start - notes[i - 1].on <= kBeatTicks / 2 &&
            !struck)
            --i;
        if (i >= count_ || notes[i].on >= std::min(end, chord.start + 2 * kBeatTicks)) continue;
        changes_.push_back({static_cast<int>(i), static_cast<int>(c), i > 0 && goes_on_[i - 1] != 0});
    }
}

void PitchMeter::prepare_spans() {
    for (std::size_t i = 0; i < count_; ++i) {
        if (i == 0 || group_of_[i] != group_of_[i - 1]) spans_.push_back({i, i, chord_of_[i]});
        spans_.back().end = i + 1;
    }
}

void PitchMeter::measure(Aspect aspect, const std::vector<int>& pitches, Figures& out) {
    switch (aspect) {
        case Aspect::Moves:
            measure_moves(pitches, out);
            return measure_runs(out);
        case Aspect::Tones:
            return measure_tones(pitches, out);
        case Aspect::Register:
            return measure_register(pitches, out);
        case Aspect::Outside:
            return measure_outside(pitches, out);
        case Aspect::Again:
            return measure_again(pitches, out);
    }
}

void PitchMeter::measure_moves(const std::vector<int>& pitches, Figures& out) {
    histogram_.fill(0);
    int leaps = 0;
    int turned = 0;
    int arpeggio = 0;
    int pairs = 0;
    double sum_a = 0;
    double sum_b = 0;
    double sum_aa = 0;
    double sum_bb = 0;
    double sum_ab = 0;
    std::array<int, 27> shapes{};
    int shape_count = 0;
    int before = kNoMove;
    int before2 = kNoMove;
    int largest = 0;
    const auto sign = [](int v) { return v > 0 ? 2 : v < 0 ? 0 : 1; };
    for (std::size_t i = 0; i < count_; ++i) {
        if (goes_on_[i] == 0) {
            moves_[i] = kNoMove;
            before = before2 = kNoMove;
            continue;
        }
        const int move = pitches[i + 1] - pitches[i];
        moves_[i] = move;
        largest = std::max(largest, std::abs(move));
        ++histogram_[static_cast<std::size_t>(std::clamp(move, -13, 13) + 13)];
        if (before != kNoMove) {
            ++pairs;
            sum_a += before;
            sum_b += move;
            sum_aa += before * before;
            sum_bb += move * move;
            sum_ab += before * move;
            const int a = std::abs(before);
            const int b = std::abs(move);
            if (a >= 5) {
                ++leaps;
                turned += before * move < 0 ? 1 : 0;
            }
            arpeggio += before * move > 0 && a >= 3 && a <= 5 && b >= 3 && b <= 5 ? 1 : 0;
            if (before2 != kNoMove) {
                ++shapes[static_cast<std::size_t>(9 * sign(before2) + 3 * sign(before) + sign(move))];
                ++shape_count;
            }
        }
        before2 = before;
        before = move;
    }
    out[Figure::MaxLeap] = largest;
    if (leaps >= 3) {
        out[Figure::Recover] = static_cast<double>(turned) / leaps;
    } else {
        out.clear(Figure::Recover);
    }
    if (pairs >= 8) {
        const double mean_a = sum_a / pairs;
        const double mean_b = sum_b / pairs;
        const double spread =
            std::sqrt((sum_aa - pairs * mean_a * mean_a) * (sum_bb - pairs * mean_b * mean_b));
        out[Figure::TurnCorrelation] = spread > 0 ? (sum_ab - pairs * mean_a * mean_b) / spread : 1;
        out[Figure::Arpeggio] = static_cast<double>(arpeggio) / pairs;
    } else {
        out.clear(Figure::TurnCorrelation);
        out.clear(Figure::Arpeggio);
    }
    if (shape_count >= 8) {
        double sum = 0;
        for (const int count : shapes) sum += n_log_n(count);
        out[Figure::TurnVariety] = std::log2(shape_count) - sum / shape_count;
    } else {
        out.clear(Figure::TurnVariety);
    }
    measure_shape(out);
}

void PitchMeter::measure_shape(Figures& out) const {
    const auto at = [&](int move) { return histogram_[static_cast<std::size_t>(move + 13)]; };
    int all = 0;
    for (const int count : histogram_) all += count;
    if (all == 0) return;
    double divergence = 0;
    for (std::size_t k = 0; k < histogram_.size(); ++k) {
        const double a = static_cast<double>(histogram_[k]) / all;
        const double b = usual_[k];
        const double middle = (a + b) / 2;
        if (a > 0) divergence += a * std::log2(a / middle) / 2;
        if (b > 0) divergence += b * std::log2(b / middle) / 2;
    }
    const double n = all;
    out[Figure::IntervalShape] = divergence;
    out[Figure::Semitone] = (at(1) + at(-1)) / n;
    out[Figure::WholeTone] = (at(2) + at(-2)) / n;
    out[Figure::Steps] = out[Figure::Semitone] + out[Figure::WholeTone];
    out[Figure::Thirds] = (at(3) + at(-3) + at(4) + at(-4)) / n;
    out[Figure::Fourths] = (at(5) + at(-5) + at(6) + at(-6) + at(7) + at(-7)) / n;
    int large = 0;
    int up = 0;
    int down = 0;
    for (int move = 1; move <= 13; ++move) {
        up += at(move);
        down += at(-move);
        if (move > 7) large += at(move) + at(-move);
    }
    out[Figure::Large] = large / n;
    out[Figure::Repeats] = at(0) / n;
    out[Figure::Up] = static_cast<double>(up) / std::max(1, up + down);
    out[Figure::UpStep] = static_cast<double>(at(1) + at(2)) / std::max(1, up);
    out[Figure::DownStep] = static_cast<double>(at(-1) + at(-2)) / std::max(1, down);
}

void PitchMeter::measure_runs(Figures& out) {
    int runs = 0;
    int moved = 0;
    int one = 0;
    int four = 0;
    int longest = 0;
    int direction = 0;
    int length = 0;
    const auto close = [&] {
        if (direction != 0) {
            ++runs;
            moved += length;
            one += length == 1 ? 1 : 0;
            four += length >= 4 ? 1 : 0;
            longest = std::max(longest, length);
        }
    };
    for (std::size_t i = 0; i < count_; ++i) {
        const int move = moves_[i];
        const int way = move == kNoMove ? 0 : (move > 0) - (move < 0);
        if (way == direction && way != 0) {
            ++length;
            continue;
        }
        close();
        direction = way;
        length = 1;
    }
    close();
    if (runs < 4) {
        for (const Figure f : {Figure::RunMean, Figure::RunOne, Figure::RunFour, Figure::RunMax})
            out.clear(f);
        return;
    }
    out[Figure::RunMean] = static_cast<double>(moved) / runs;
    out[Figure::RunOne] = static_cast<double>(one) / runs;
    out[Figure::RunFour] = static_cast<double>(four) / runs;
    out[Figure::RunMax] = longest;
}

void PitchMeter::measure_tones(const std::vector<int>& pitches, Figures& out) const {
    std::array<int, 3> in_chord{};
    std::array<int, 3> all{};
    double lift = 0;
    for (std::size_t i = 0; i < count_; ++i) {
        if (chord_of_[i] < 0) continue;
        const BeatChord& chord = ground_->chords[static_cast<std::size_t>(chord_of_[i])];
        const auto place = static_cast<std::size_t>(place_[i]);
        ++all[place];
        in_chord[place] += holds(chord.tones, pitches[i]) ? 1 : 0;
        lift += lift_[static_cast<std::size_t>(chord.meaning)][static_cast<std::size_t>(pitches[i] % 12)];
    }
    constexpr std::array<Figure, 3> kTones{Figure::ToneStrong, Figure::ToneWeak, Figure::ToneOff};
    for (std::size_t k = 0; k < 3; ++k) {
        if (all[k] >= 5) {
            out[kTones[k]] = static_cast<double>(in_chord[k]) / all[k];
        } else {
            out.clear(kTones[k]);
        }
    }
    if (has_lift_) {
        out[Figure::ToneLift] = lift;
    } else {
        out.clear(Figure::ToneLift);
    }
    int hit = 0;
    int guide = 0;
    int near = 0;
    for (const Change& change : changes_) {
        const auto i = static_cast<std::size_t>(change.note);
        const BeatChord& chord = ground_->chords[static_cast<std::size_t>(change.chord)];
        hit += holds(chord.tones, pitches[i]) ? 1 : 0;
        guide += holds(chord.guide, pitches[i]) ? 1 : 0;
        near += change.linked && std::abs(pitches[i] - pitches[i - 1]) <= 2 ? 1 : 0;
    }
    const auto met = static_cast<double>(changes_.size());
    if (changes_.size() < 4) {
        for (const Figure f : {Figure::ChangeTone, Figure::ChangeGuide, Figure::ChangeNear}) out.clear(f);
        return;
    }
    out[Figure::ChangeTone] = hit / met;
    out[Figure::ChangeGuide] = guide / met;
    out[Figure::ChangeNear] = near / met;
}

void PitchMeter::measure_register(const std::vector<int>& pitches, Figures& out) const {
    std::array<int, 128> count{};
    std::array<int, 12> classes{};
    std::array<double, 256> sum{};
    std::array<int, 256> notes{};
    int top = 0;
    int bottom = 127;
    std::size_t first_top = 0;
    for (std::size_t i = 0; i < count_; ++i) {
        const int pitch = pitches[i];
        ++count[static_cast<std::size_t>(pitch)];
        ++classes[static_cast<std::size_t>(pitch % 12)];
        const auto block = static_cast<std::size_t>(std::min(255, bar_of_[i] / 4));
        sum[block] += pitch;
        ++notes[block];
        if (pitch > top) {
            top = pitch;
            first_top = i;
        }
        bottom = std::min(bottom, pitch);
    }
    const auto nth = [&](std::size_t n) {
        std::size_t below = 0;
        for (int pitch = bottom; pitch < 127; ++pitch) {
            below += static_cast<std::size_t>(count[static_cast<std::size_t>(pitch)]);
            if (below > n) return pitch;
        }
        return 127;
    };
    out[Figure::Range] = top - bottom;
    out[Figure::MiddleHalf] = nth(3 * count_ / 4) - nth(count_ / 4);
    double total = 0;
    double squares = 0;
    int blocks = 0;
    for (std::size_t b = 0; b < notes.size(); ++b) {
        if (notes[b] < 4) continue;
        const double mean = sum[b] / notes[b];
        total += mean;
        squares += mean * mean;
        ++blocks;
    }
    if (blocks > 1) {
        const double mean = total / blocks;
        out[Figure::Drift] = std::sqrt(std::max(0.0, squares / blocks - mean * mean));
    } else {
        out.clear(Figure::Drift);
    }
    out[Figure::Climax] = static_cast<double>(onset_[first_top]) / ground_->ticks();
    out[Figure::TopHits] = count[static_cast<std::size_t>(top)];
    double entropy = 0;
    for (const int n : classes) entropy += n_log_n(n);
    const auto n = static_cast<double>(count_);
    out[Figure::PitchVariety] = std::log2(n) - entropy / n;
}

}  // namespace shedbook
