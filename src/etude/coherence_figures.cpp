// The figures of what lies outside the scales, and of what was heard before: see figures.h.
#include <algorithm>
#include <bit>
#include <cstdlib>

#include "figures.h"

namespace shedbook {

// The scale that fits the chord best, by the notes over it.
SoundSet PitchMeter::best_fitting(const Span& span) const {
    SoundSet best = 0xFFFU;
    if (span.chord < 0) return best;
    int most = -1;
    for (const SoundSet scale : ground_->chords[static_cast<std::size_t>(span.chord)].fitting) {
        int count = 0;
        for (SoundSet rest = scale; rest != 0; rest &= rest - 1)
            count += span.notes[static_cast<std::size_t>(std::countr_zero(rest))];
        if (count > most) {
            most = count;
            best = scale;
        }
    }
    return best;
}

void PitchMeter::measure_outside(const std::vector<int>& pitches, Figures& out) {
    for (Span& span : spans_) {
        std::array<int, 12> notes{};
        for (std::size_t i = span.first; i < span.end; ++i)
            ++notes[static_cast<std::size_t>(pitches[i] % 12)];
        if (notes != span.notes) {
            span.notes = notes;
            span.fits = best_fitting(span);
        }
        for (std::size_t i = span.first; i < span.end; ++i) inside_[i] = holds(span.fits, pitches[i]) ? 1 : 0;
    }
    int known = 0;
    int outside = 0;
    int unresolved = 0;
    for (std::size_t i = 0; i < count_; ++i) {
        if (chord_of_[i] < 0) continue;
        ++known;
        if (inside_[i] != 0) continue;
        ++outside;
        bool good = false;
        for (std::size_t j = i + 1; j <= i + 2 && j < count_ && goes_on_[j - 1] != 0; ++j) {
            const int apart = std::abs(pitches[j] - pitches[i]);
            if (chord_of_[j] >= 0 && apart >= 1 && apart <= 2 && inside_[j] != 0) good = true;
        }
        unresolved += good ? 0 : 1;
    }
    out[Figure::Outside] = static_cast<double>(outside) / std::max(1, known);
    out[Figure::Unresolved] = static_cast<double>(unresolved) / std::max(1, known);
}

int PitchMeter::longest_again(const std::vector<std::uint32_t>& tokens) {
    // Places of equal tokens are chained; a run of equal tokens is followed from where it begins.
    std::ranges::fill(table_, 0U);
    const auto mask = static_cast<std::uint32_t>(table_.size() - 1);
    before_.assign(tokens.size(), -1);
    latest_.clear();
    int best = 0;
    for (std::size_t i = 0; i < tokens.size(); ++i) {
        std::uint32_t slot = tokens[i] * 2654435761U >> table_shift_;
        while (table_[slot & mask] != 0 &&
               tokens[static_cast<std::size_t>(table_[slot & mask]) - 1] != tokens[i])
            ++slot;
        std::uint32_t& cell = table_[slot & mask];
        before_[i] = static_cast<int>(cell) - 1;
        cell = static_cast<std::uint32_t>(i) + 1;
        for (int j = before_[i]; j >= 0; j = before_[static_cast<std::size_t>(j)]) {
            const auto earlier = static_cast<std::size_t>(j);
            const int lag = static_cast<int>(i - earlier);
            if (lag <= best) continue;
            // What would make it longer than the best is looked at first: there most runs differ.
            const auto far = static_cast<std::size_t>(best);
            if (far > earlier || tokens[earlier - far] != tokens[i - far]) continue;
            // Backwards from here: the run that ends at i.
            int run = 1;
            while (run < lag && static_cast<std::size_t>(run) <= earlier &&
                   tokens[earlier - static_cast<std::size_t>(run)] ==
                       tokens[i - static_cast<std::size_t>(run)])
                ++run;
            best = std::max(best, run);
        }
    }
    return best;
}

void PitchMeter::measure_turns(Figures& out) {
    std::ranges::fill(table_, 0U);
    const auto mask = static_cast<std::uint32_t>(table_.size() - 1);
    int grams = 0;
    int again = 0;
    stale_ = 0;
    std::ranges::fill(times_, 0);
    std::uint32_t turn = 0;  // the last four intervals, seven bits each
    int joined = 0;
    for (std::size_t i = 0; i < count_; ++i) {
        joined = moves_[i] == kNoMove ? 0 : joined + 1;
        turn = (turn << 7U | static_cast<std::uint32_t>((moves_[i] + 64) & 127)) & 0xFFFFFFFU;
        if (joined < 4) continue;
        ++grams;
        const std::uint32_t key = turn | 1U << 31U;
        std::uint32_t slot = key * 2654435761U >> table_shift_;
        while (table_[slot & mask] != 0 && table_[slot & mask] != key) ++slot;
        if (table_[slot & mask] == key) {
            ++again;
            stale_ += ++times_[slot & mask] > 1 ? 1 : 0;
        } else {
            table_[slot & mask] = key;
        }
    }
    if (grams >= 8) {
        out[Figure::Again4] = static_cast<double>(again) / grams;
    } else {
        out.clear(Figure::Again4);
    }
}

void PitchMeter::measure_passages(const std::vector<int>& pitches, Figures& out) {
    tokens_.clear();
    for (std::size_t i = 0; i + 1 < count_; ++i)
        tokens_.push_back(static_cast<std::uint32_t>(pitches[i + 1]) << 10U |
                          static_cast<std::uint32_t>(apart_[i]));
    out[Figure::AgainExact] = longest_again(tokens_) + 1;
    for (std::size_t i = 0; i + 1 < count_; ++i)
        tokens_[i] = static_cast<std::uint32_t>(pitches[i + 1] - pitches[i] + 128) << 10U |
                     static_cast<std::uint32_t>(apart_[i]);
    out[Figure::AgainTransposed] = longest_again(tokens_) + 1;
}

void PitchMeter::measure_bars(const std::vector<int>& pitches, Figures& out) {
    // Bars note for note, by a key of places and pitches.
    int bars = 0;
    int bars_again = 0;
    std::vector<std::uint64_t>& keys = bar_keys_;
    keys.clear();
    for (std::size_t i = 0; i < count_;) {
        std::uint64_t key = 1469598103934665603ULL;
        std::size_t e = i;
        for (; e < count_ && bar_of_[e] == bar_of_[i]; ++e)
            key = (key ^ static_cast<std::uint64_t>(in_bar_[e] * 128 + pitches[e])) * 1099511628211ULL;
        if (e - i >= 3) {
            ++bars;
            if (std::ranges::find(keys, key) != keys.end()) {
                ++bars_again;
            } else {
                keys.push_back(key);
            }
        }
        i = e;
    }
    if (bars >= 4) {
        out[Figure::AgainBar] = static_cast<double>(bars_again) / bars;
    } else {
        out.clear(Figure::AgainBar);
    }
}

void PitchMeter::measure_again(const std::vector<int>& pitches, Figures& out) {
    measure_turns(out);
    measure_passages(pitches, out);
    measure_bars(pitches, out);
}

}  // namespace shedbook
