#include "figures.h"

#include <algorithm>
#include <cmath>

namespace shedbook {
namespace {

constexpr std::array<std::string_view, kFigures> kNames{
    "int_js",    "semitone",  "wholetone", "steps",     "thirds",     "fourths",  "large",    "repeats",
    "maxleap",   "recover",   "run_mean",  "run_one",   "run_four",   "run_max",  "up",       "up_step",
    "down_step", "turn_corr", "turn_ent",  "arp",       "ct_strong",  "ct_weak",  "ct_off",   "ct_lift",
    "chg_ct",    "chg_guide", "chg_near",  "outside",   "unresolved", "ph_notes", "ph_beats", "ph_spread",
    "rests",     "ph_max",    "start_one", "start_off", "end_off",    "density",  "rh_ent",   "rh_top",
    "rh_prev",   "sync",      "offbeat",   "ioi_ent",   "eighths",    "fast",     "rep4",     "rep_exact",
    "rep_trans", "rep_bar",   "range",     "iqr",       "drift",      "climax",   "top_hits", "pc_ent"};
static_assert(has_a_row_each<Figure>(kNames));

}  // namespace

double n_log_n(int n) {
    static const std::vector<double> kTable = [] {
        std::vector<double> out{0.0};
        for (int i = 1; i < 4096; ++i) out.push_back(i * std::log2(i));
        return out;
    }();
    return n < 4096 ? kTable[static_cast<std::size_t>(n)] : n * std::log2(n);
}

std::string_view name_of(Figure figure) {
    return kNames[row_index(figure)];
}

void RhythmMeter::measure(const std::vector<TickNote>& notes, Figures& out) {
    measure_phrases(notes, out);
    measure_values(notes, out);
    measure_bars(notes, out);
}

void RhythmMeter::measure_phrases(const std::vector<TickNote>& notes, Figures& out) const {
    const std::size_t n = notes.size();
    int phrases = 0;
    double squares = 0;
    double beats = 0;
    int longest = 0;
    int start_one = 0;
    int start_off = 0;
    int end_off = 0;
    double silent = 0;
    std::size_t first = 0;
    std::size_t bar = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const TickNote& note = notes[i];
        while (note.on >= ground_->bar_start[bar + 1]) ++bar;
        const int in_bar = note.on - ground_->bar_start[bar];
        const int gap = note.on - (i == 0 ? 0 : notes[i - 1].end);
        if (gap >= kBeatTicks) silent += gap;
        if (i == 0 || gap >= kBeatTicks) {
            first = i;
            start_one += in_bar == 0 ? 1 : 0;
            start_off += in_bar % kBeatTicks != 0 ? 1 : 0;
        }
        if (i + 1 < n && notes[i + 1].on - note.end < kBeatTicks) continue;
        const int length = static_cast<int>(i - first) + 1;
        ++phrases;
        longest = std::max(longest, length);
        squares += static_cast<double>(length) * length;
        beats += static_cast<double>(note.end - notes[first].on) / kBeatTicks;
        end_off += in_bar % kBeatTicks != 0 ? 1 : 0;
    }
    if (n != 0 && ground_->ticks() - notes.back().end >= kBeatTicks)
        silent += ground_->ticks() - notes.back().end;
    const double count = std::max(1, phrases);
    const double mean = static_cast<double>(n) / count;
    out[Figure::PhraseNotes] = mean;
    out[Figure::PhraseBeats] = beats / count;
    out[Figure::PhraseSpread] =
        phrases > 1 ? std::sqrt(std::max(0.0, squares / count - mean * mean)) / mean : 0;
    out[Figure::Rests] = silent / ground_->ticks();
    out[Figure::PhraseMax] = longest;
    out[Figure::StartOne] = start_one / count;
    out[Figure::StartOff] = start_off / count;
    out[Figure::EndOff] = end_off / count;
}

void RhythmMeter::measure_values(const std::vector<TickNote>& notes, Figures& out) const {
    int off_beat = 0;
    int held = 0;
    std::array<int, 9> values{};
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const TickNote& note = notes[i];
        if (note.on % kBeatTicks != 0) {
            ++off_beat;
            const int next_beat = note.on - note.on % kBeatTicks + kBeatTicks;
            const bool is_last = i + 1 >= notes.size() || notes[i + 1].on > next_beat;
            if (is_last && note.end > next_beat) ++held;
        }
        if (i + 1 == notes.size()) continue;
        const int apart = notes[i + 1].on - note.on;
        ++values[static_cast<std::size_t>(apart < 25 ? 0 : std::clamp((apart + 15) / 30, 1, 8))];
    }
    const auto count = static_cast<double>(std::max<std::size_t>(1, notes.size()));
    out[Figure::OffBeat] = off_beat / count;
    out[Figure::Syncopation] = held / count;
    double entropy = 0;
    for (const int value : values) entropy += n_log_n(value);
    const int moves = std::max(1, static_cast<int>(notes.size()) - 1);
    out[Figure::ValueVariety] = std::log2(moves) - entropy / moves;
    out[Figure::Eighths] = static_cast<double>(values[1]) / moves;
    out[Figure::Fast] = static_cast<double>(values[0]) / moves;
}

void RhythmMeter::measure_bars(const std::vector<TickNote>& notes, Figures& out) {
    const int bars = ground_->bars();
    patterns_.assign(static_cast<std::size_t>(bars), 0);
    std::size_t bar = 0;
    for (const TickNote& note : notes) {
        while (note.on >= ground_->bar_start[bar + 1]) ++bar;
        const int half_beat = (note.on - ground_->bar_start[bar]) / (kBeatTicks / 2);
        patterns_[bar] |= 1U << static_cast<unsigned>(std::min(31, half_beat));
    }
    int same = 0;
    for (std::size_t b = 1; b < patterns_.size(); ++b)
        same += patterns_[b] != 0 && patterns_[b] == patterns_[b - 1] ? 1 : 0;
    sorted_ = patterns_;
    std::ranges::sort(sorted_);
    double sum = 0;
    int top = 0;
    for (std::size_t b = 0; b < sorted_.size();) {
        std::size_t e = b;
        while (e < sorted_.size() && sorted_[e] == sorted_[b]) ++e;
        const int count = static_cast<int>(e - b);
        sum += n_log_n(count);
        if (sorted_[b] != 0) top = std::max(top, count);
        b = e;
    }
    out[Figure::Density] = static_cast<double>(notes.size()) / bars;
    out[Figure::RhythmVariety] = bars > 1 ? (std::log2(bars) - sum / bars) / std::log2(bars) : 0;
    out[Figure::RhythmTop] = static_cast<double>(top) / bars;
    out[Figure::RhythmPrevious] = bars > 1 ? static_cast<double>(same) / (bars - 1) : 0;
}

}  // namespace shedbook
