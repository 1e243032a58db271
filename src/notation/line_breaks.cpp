#include "shedbook/notation/line_breaks.h"

#include <algorithm>
#include <numeric>

namespace shedbook {
namespace {

std::vector<int> weights_of(const WrittenMusic& music, const LineRules& rules) {
    std::vector<int> out;
    for (const Measure& measure : music.measures) {
        int weight = 0;
        for (const Event& event : music.events_of(measure)) {
            const auto* note = std::get_if<Sounded>(&event.what);
            const bool has_accidental = note != nullptr && note->shown != Accidental::None;
            weight += rules.weighs_accidentals && has_accidental ? 3 : 2;
        }
        out.push_back(weight);
    }
    return out;
}

// A line ends where the next bar would lie, by its middle, behind its share of the whole.
std::vector<bool> shared_evenly(const std::vector<int>& weights, int room) {
    const int all = std::accumulate(weights.begin(), weights.end(), 0);
    const int lines = (all + room - 1) / room;
    std::vector<bool> out;
    int done = 0;
    int before = 0;
    for (const int weight : weights) {
        const bool starts = done == 0 || (done < lines && (2 * before + weight) * lines > 2 * done * all);
        if (starts) ++done;
        out.push_back(starts);
        before += weight;
    }
    return out;
}

std::vector<bool> counted_by_bars(const std::vector<int>& weights, const LineRules& rules) {
    std::vector<bool> out(weights.size(), false);
    const auto bars = static_cast<std::size_t>(rules.bars);
    for (std::size_t bar = 0; bar < weights.size(); bar += bars) {
        out[bar] = true;
        const std::size_t end = std::min(bar + bars, weights.size());
        const int weight = std::accumulate(weights.begin() + static_cast<std::ptrdiff_t>(bar),
                                           weights.begin() + static_cast<std::ptrdiff_t>(end), 0);
        if (weight > rules.room && bar + bars / 2 < end) out[bar + bars / 2] = true;
    }
    return out;
}

}  // namespace

std::vector<bool> starts_of_lines(const WrittenMusic& music, const LineRules& rules) {
    const std::vector<int> weights = weights_of(music, rules);
    return rules.bars > 0 ? counted_by_bars(weights, rules) : shared_evenly(weights, rules.room);
}

void break_lines(WrittenMusic& music, const std::vector<bool>& starts) {
    for (std::size_t bar = 0; bar < music.measures.size(); ++bar)
        music.measures[bar].new_system = bar > 0 && starts[bar];
}

}  // namespace shedbook
