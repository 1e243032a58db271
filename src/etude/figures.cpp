#include "figures.h"

#include <algorithm>
#include <cmath>

namespace shedbook {
namespace {

constexpr int T = kBeatTicks;

constexpr std::array<std::string_view, kFigures> kNames{
    "int_js",    "semitone",  "wholetone", "steps",     "thirds",     "fourths",  "large",    "repeats",
    "maxleap",   "recover",   "run_mean",  "run_one",   "run_four",   "run_max",  "up",       "up_step",
    "down_step", "turn_corr", "turn_ent",  "arp",       "ct_strong",  "ct_weak",  "ct_off",   "ct_lift",
    "chg_ct",    "chg_guide", "chg_near",  "outside",   "unresolved", "ph_notes", "ph_beats", "ph_spread",
    "rests",     "ph_max",    "start_one", "start_off", "end_off",    "density",  "rh_ent",   "rh_top",
    "rh_prev",   "sync",      "offbeat",   "ioi_ent",   "eighths",    "fast",     "rep4",     "rep_exact",
    "rep_trans", "rep_bar",   "range",     "iqr",       "drift",      "climax",   "top_hits", "pc_ent"};

// n log2 n, for entropies of counts.
double n_log_n(int n) {
    static const std::vector<double> kTable = [] {
        std::vector<double> out{0.0};
        for (int i = 1; i < 4096; ++i) out.push_back(i * std::log2(i));
        return out;
    }();
    return n < 4096 ? kTable[static_cast<std::size_t>(n)] : n * std::log2(n);
}

double ratio(double part, double whole) {
    return part / whole;
}

}  // namespace

std::string_view name_of(Figure figure) {
    return kNames[static_cast<std::size_t>(figure)];
}

void RhythmMeter::measure(const std::vector<TickNote>& notes, Figures& out) {
    const int bars = ground_->bars();
    const std::size_t n = notes.size();
    const int all_ticks = ground_->ticks();
    patterns_.assign(static_cast<std::size_t>(bars), 0);
    int phrases = 0;
    double phrase_notes_squared = 0;
    double phrase_beats = 0;
    int longest = 0;
    int start_one = 0;
    int start_off = 0;
    int end_off = 0;
    int off_beat = 0;
    int held = 0;
    double silent = 0;
    std::array<int, 9> values{};
    std::size_t first = 0;
    int bar = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const TickNote& note = notes[i];
        while (note.on >= ground_->bar_start[static_cast<std::size_t>(bar) + 1]) ++bar;
        const int in_bar = note.on - ground_->bar_start[static_cast<std::size_t>(bar)];
        patterns_[static_cast<std::size_t>(bar)] |= 1U
                                                    << static_cast<unsigned>(std::min(31, in_bar / (T / 2)));
        const int gap = note.on - (i == 0 ? 0 : notes[i - 1].end);
        if (gap >= T) silent += gap;
        const bool starts = i == 0 || gap >= T;
        if (starts) {
            first = i;
            start_one += in_bar == 0 ? 1 : 0;
            start_off += in_bar % T != 0 ? 1 : 0;
        }
        if (in_bar % T != 0) {
            ++off_beat;
            const int next_beat = note.on - in_bar % T + T;
            const bool is_last_held = i + 1 >= n || notes[i + 1].on > next_beat;
            if (is_last_held && note.end > next_beat) ++held;
        }
        const bool ends = i + 1 == n || notes[i + 1].on - note.end >= T;
        if (ends) {
            ++phrases;
            const int length = static_cast<int>(i - first) + 1;
            longest = std::max(longest, length);
            phrase_notes_squared += static_cast<double>(length) * length;
            phrase_beats += static_cast<double>(note.end - notes[first].on) / T;
            end_off += in_bar % T != 0 ? 1 : 0;
        }
        if (i + 1 < n) {
            const int apart = notes[i + 1].on - note.on;
            const int value = apart < 25 ? 0 : std::min(8, std::max(1, (apart + 15) / 30));
            ++values[static_cast<std::size_t>(value)];
        }
    }
    if (n != 0 && all_ticks - notes.back().end >= T) silent += all_ticks - notes.back().end;
    const double mean = ratio(static_cast<double>(n), std::max(1, phrases));
    out[Figure::PhraseNotes] = mean;
    out[Figure::PhraseBeats] = phrase_beats / std::max(1, phrases);
    out[Figure::PhraseSpread] =
        phrases > 1 ? std::sqrt(std::max(0.0, phrase_notes_squared / phrases - mean * mean)) / mean : 0;
    out[Figure::Rests] = silent / all_ticks;
    out[Figure::PhraseMax] = longest;
    out[Figure::StartOne] = ratio(start_one, std::max(1, phrases));
    out[Figure::StartOff] = ratio(start_off, std::max(1, phrases));
    out[Figure::EndOff] = ratio(end_off, std::max(1, phrases));
    out[Figure::Density] = static_cast<double>(n) / bars;
    out[Figure::OffBeat] = ratio(off_beat, static_cast<double>(std::max<std::size_t>(1, n)));
    out[Figure::Syncopation] = ratio(held, static_cast<double>(std::max<std::size_t>(1, n)));
    double entropy = 0;
    int moves = 0;
    for (const int value : values) {
        entropy += n_log_n(value);
        moves += value;
    }
    moves = std::max(1, moves);
    out[Figure::ValueVariety] = std::log2(moves) - entropy / moves;
    out[Figure::Eighths] = static_cast<double>(values[1]) / moves;
    out[Figure::Fast] = static_cast<double>(values[0]) / moves;
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
    out[Figure::RhythmVariety] = bars > 1 ? (std::log2(bars) - sum / bars) / std::log2(bars) : 0;
    out[Figure::RhythmTop] = static_cast<double>(top) / bars;
    out[Figure::RhythmPrevious] = bars > 1 ? static_cast<double>(same) / (bars - 1) : 0;
}

}  // namespace shedbook
