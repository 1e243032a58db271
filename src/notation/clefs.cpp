#include <algorithm>
#include <array>
#include <cstdlib>
#include <vector>

#include "steps.h"

namespace shedbook {
namespace {

// The low clef and the high one.
constexpr std::size_t kClefs = 2;
// What a change costs, and a beginning in the clef that is the rarer one: about three notes on the third
// ledger line read as well; and a bar in that clef where the usual one would do: two of them are worth the
// way back.
constexpr int kChangeOfClef = 80;
constexpr int kBeginsHigh = 100;
constexpr int kBarHigh = 45;

struct ClefCosts {
    int free_lines = 2;
    int begins_high = kBeginsHigh;
};
// A pianist's left hand reads either clef as well: it may begin in the high one.
ClefCosts costs_for(const Clef& low, const Clef& high) {
    return low.sign == 'F' && high.sign == 'G' ? ClefCosts{2, 0} : ClefCosts{};
}

// How hard the bar is to read: by the ledger lines of each note that are too many, 30, 80, 150 ...
int cost_of(const WrittenMusic& music, const Measure& measure, int middle, const ClefCosts& costs) {
    constexpr int kOuterLine = 4;  // in staff places from the middle line
    int cost = 0;
    for (const Event& event : music.events_of(measure)) {
        const auto* note = std::get_if<Sounded>(&event.what);
        if (note == nullptr) continue;
        const auto [low, high] = music.staff_places(*note);
        const int lines = (std::max(std::abs(low - middle), std::abs(high - middle)) - kOuterLine) / 2;
        const int beyond = std::max(0, lines - costs.free_lines);
        cost += 10 * beyond * (beyond + 2);
    }
    return cost;
}

// No clef changes between the two notes of a tie.
bool is_tied_into(const WrittenMusic& music, std::size_t measure) {
    if (measure == 0) return false;
    const auto events = music.events_of(music.measures[measure - 1]);
    const auto* note = events.empty() ? nullptr : std::get_if<Sounded>(&events.back().what);
    return note != nullptr && note->tied_on;
}

// 0 or 1 for each bar, so that reading and changing cost least in all.
std::vector<std::size_t> cheapest_clefs(const WrittenMusic& music, const std::array<Clef, kClefs>& clefs) {
    const ClefCosts costs = costs_for(clefs[0], clefs[1]);
    std::array<int, kClefs> best{0, costs.begins_high};
    std::vector<std::array<std::size_t, kClefs>> from;  // of each bar: the clef before it
    for (std::size_t m = 0; m < music.measures.size(); ++m) {
        from.push_back({0, 1});
        const bool may_change = m > 0 && !is_tied_into(music, m);
        std::array<int, kClefs> next{};
        const bool is_usual = cost_of(music, music.measures[m], middle_line(clefs[0]), costs) == 0;
        for (std::size_t to = 0; to < kClefs; ++to) {
            const bool changes = may_change && best[1 - to] + kChangeOfClef < best[to];
            if (changes) from.back()[to] = 1 - to;
            next[to] = (changes ? best[1 - to] + kChangeOfClef : best[to]) +
                       cost_of(music, music.measures[m], middle_line(clefs[to]), costs) +
                       (to == 1 && is_usual ? kBarHigh : 0);
        }
        best = next;
    }
    std::vector<std::size_t> out(music.measures.size());
    std::size_t at = best[1] < best[0] ? 1 : 0;
    for (std::size_t m = out.size(); m-- > 0; at = from[m][at]) out[m] = at;
    return out;
}

}  // namespace

// Common practice, no source: in which clefs an instrument reads is in its data.
void decide_clefs(WrittenMusic& music, const Instrument& instrument) {
    if (!instrument.high_clef || music.measures.empty()) return;
    const std::array<Clef, kClefs> clefs{music.clef, *instrument.high_clef};
    const std::vector<std::size_t> chosen = cheapest_clefs(music, clefs);
    music.clef = clefs[chosen.front()];
    for (std::size_t m = 1; m < chosen.size(); ++m) {
        if (chosen[m] != chosen[m - 1]) music.measures[m].clef = clefs[chosen[m]];
    }
}

}  // namespace shedbook
