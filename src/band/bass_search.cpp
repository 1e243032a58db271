#include "bass_search.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdlib>
#include <random>

#include "shedbook/base/enum_table.h"

namespace shedbook {
namespace {

// Costs are in tenths of a step that a player would rather not take; the line with the smallest sum is the
// one that is played. What they weigh is common practice, no source; the tests say what must come out.
using Cost = int;
constexpr Cost kNever = 100'000;
constexpr Cost kStale = 60;
constexpr Cost kOffFigure = 400;
constexpr Cost kOctaveDown = 30;  // where a figure goes up, and the line is too high for it
constexpr int kKeys = kBandBassHighest - kBassLowest + 1;

// What a feel likes: a row each.
struct Manner {
    // By the size of the interval in semitones, 0 to 12.
    std::array<Cost, 13> leap;
    // Bass, third, fifth, seventh, colour, scale, other: where a bar begins, a group, and elsewhere.
    std::array<Cost, kBassTones> on_one, on_strong, elsewhere;
    Cost chromatic_lead;  // off, where a note of neither chord nor scale leads by step
    Cost back_and_forth;  // two notes in turn
    Cost turning;         // a step and back
    Cost three_alike;     // the same note three times
    bool has_passing;     // steps through notes that no chord has, between the changes
    bool has_neighbours;  // and a step to a note of the scale and back
    int most_whim;        // below the cost of anything that matters
};
constexpr std::array<Manner, 4> kManners{{
    {.leap = {30, 0, 0, 4, 5, 8, 30, 14, 26, 26, 50, 60, 18},
     .on_one = {0, 9, 7, 25, 30, 4, 14},
     .on_strong = {10, 2, 0, 6, 30, 4, 14},
     .elsewhere = {10, 2, 0, 6, 12, 4, 14},
     .chromatic_lead = 10,
     .back_and_forth = 9,
     .turning = 5,
     .three_alike = 0,
     .has_passing = true,
     .has_neighbours = false,
     .most_whim = 12},
    {.leap = {0, 0, 0, 6, 6, 2, 30, 2, 26, 26, 50, 60, 8},
     .on_one = {0, 30, 24, 40, 50, 60, 60},
     .on_strong = {4, 14, 0, 18, 30, 30, 30},
     .elsewhere = {8, 8, 0, 10, 20, 12, 26},
     .chromatic_lead = 0,
     .back_and_forth = 0,
     .turning = 0,
     .three_alike = 16,
     .has_passing = false,
     .has_neighbours = false,
     .most_whim = 5},
    // In these the wishes of each beat say most of what is played.
    {.leap = {10, 0, 0, 4, 4, 4, 26, 4, 10, 10, 16, 24, 6},
     .on_one = {2, 6, 4, 12, 20, 12, 26},
     .on_strong = {6, 2, 0, 5, 14, 5, 16},
     .elsewhere = {16, 13, 12, 12, 10, 0, 8},
     .chromatic_lead = 7,
     .back_and_forth = 14,
     .turning = 8,
     .three_alike = 40,
     .has_passing = true,
     .has_neighbours = true,
     .most_whim = 12},
    {.leap = {4, 2, 2, 6, 6, 0, 30, 0, 16, 16, 30, 50, 4},
     .on_one = {0, 16, 10, 30, 40, 60, 60},
     .on_strong = {8, 8, 0, 16, 24, 30, 40},
     .elsewhere = {6, 6, 0, 10, 16, 8, 18},
     .chromatic_lead = 6,
     .back_and_forth = 3,
     .turning = 4,
     .three_alike = 20,
     .has_passing = false,
     .has_neighbours = false,
     .most_whim = 8},
}};
static_assert(has_a_row_each<BassManner>(kManners));

int index_of(int key) {
    return key - kBassLowest;
}

// The cheapest way through some beats, by dynamic programming over pairs of neighbouring notes: whether a
// passing note is good depends on both its neighbours.
class BassSearch {
  public:
    BassSearch(const std::vector<BassBeat>& beats, BassManner manner, unsigned seed)
        : beats_{beats}, manner_{kManners[row_index(manner)]} {
        std::mt19937 random{seed};
        whim_.resize(beats.size());
        for (auto& of_beat : whim_) {
            for (Cost& whim : of_beat)
                whim = static_cast<Cost>(random() % (static_cast<unsigned>(manner_.most_whim) + 1));
        }
    }

    std::vector<int> keys() {
        // A very long tune is worked out in stretches, each looking a little ahead.
        constexpr std::size_t kStretch = 512;
        constexpr std::size_t kAhead = 16;
        std::vector<int> out;
        while (out.size() < beats_.size()) {
            const std::size_t from = out.size();
            const std::vector<int> stretch =
                solve(from, std::min(beats_.size(), from + kStretch + kAhead), out);
            const std::size_t keep = std::min(stretch.size(), kStretch);
            out.insert(out.end(), stretch.begin(), stretch.begin() + static_cast<std::ptrdiff_t>(keep));
        }
        return out;
    }

  private:
    // Cost of arriving at a pair (the note before, this note), and which note was before that.
    struct Table {
        std::array<std::array<Cost, kKeys>, kKeys> cost;
        std::array<std::array<std::int8_t, kKeys>, kKeys> before;
        void clear() {
            for (auto& row : cost) row.fill(kNever * 10);
            for (auto& row : before) row.fill(-1);
        }
    };

    std::vector<int> solve(std::size_t from, std::size_t to, const std::vector<int>& known) {
        std::vector<Table> tables(to - from);
        for (std::size_t i = from; i < to; ++i) {
            Table& table = tables[i - from];
            table.clear();
            for (const int key : beats_[i].keys) {
                if (i == from) {
                    begin(table, i, key, known);
                } else {
                    extend(tables[i - from - 1], table, i, key);
                }
            }
        }
        return trace_back(tables);
    }

    // The first note of a stretch follows the notes that are known by now.
    void begin(Table& table, std::size_t i, int key, const std::vector<int>& known) const {
        const Cost own = own_cost(i, key);
        if (known.empty()) {
            table.cost[static_cast<std::size_t>(index_of(key))][static_cast<std::size_t>(index_of(key))] =
                own;
            return;
        }
        const int last = known.back();
        Cost cost = own + pair_cost(i - 1, last, key);
        if (known.size() > 1) cost += triple_cost(i - 2, known[known.size() - 2], last, key);
        table.cost[static_cast<std::size_t>(index_of(last))][static_cast<std::size_t>(index_of(key))] = cost;
    }

    void extend(const Table& from, Table& to, std::size_t i, int key) const {
        const Cost own = own_cost(i, key);
        for (const int last : beats_[i - 1].keys) {
            const Cost step = own + pair_cost(i - 1, last, key);
            if (step >= kNever) continue;
            const auto b = static_cast<std::size_t>(index_of(last));
            const auto c = static_cast<std::size_t>(index_of(key));
            for (std::size_t a = 0; a < static_cast<std::size_t>(kKeys); ++a) {
                if (from.cost[a][b] >= kNever) continue;
                const bool has_two = i >= 2;
                const Cost turn =
                    has_two ? triple_cost(i - 2, static_cast<int>(a) + kBassLowest, last, key) : 0;
                const Cost cost = from.cost[a][b] + step + turn;
                if (cost < to.cost[b][c]) {
                    to.cost[b][c] = cost;
                    to.before[b][c] = static_cast<std::int8_t>(a);
                }
            }
        }
    }

    static std::vector<int> trace_back(const std::vector<Table>& tables) {
        std::size_t b = 0;
        std::size_t c = 0;
        Cost best = kNever * 10;
        for (std::size_t x = 0; x < static_cast<std::size_t>(kKeys); ++x) {
            for (std::size_t y = 0; y < static_cast<std::size_t>(kKeys); ++y) {
                if (tables.back().cost[x][y] >= best) continue;
                best = tables.back().cost[x][y];
                b = x;
                c = y;
            }
        }
        assert(best < kNever);
        std::vector<int> out(tables.size());
        for (std::size_t i = tables.size(); i-- > 0;) {
            out[i] = static_cast<int>(c) + kBassLowest;
            const auto a = tables[i].before[b][c];
            c = b;
            b = a < 0 ? b : static_cast<std::size_t>(a);
        }
        return out;
    }

    [[nodiscard]] Cost own_cost(std::size_t i, int key) const {
        const BassBeat& beat = beats_[i];
        if (!beat.leads_on && beat.is_outside(key)) return kNever;
        const int away = std::max(0, std::abs(key - beat.centre) - 6);
        const int highest = beat.centre + 7;
        Cost cost = 2 * away + (key > highest ? 6 * (key - highest) : 0);
        if (beat.stale == key) cost += kStale;
        if (beat.wanted && beat.wanted != beat.tone(key)) cost += beat.wanted_cost;
        if (!beat.is_change) cost += tone_cost(beat, key) + whim_[i][static_cast<std::size_t>(index_of(key))];
        return cost;
    }

    [[nodiscard]] Cost tone_cost(const BassBeat& beat, int key) const {
        const std::array<Cost, kBassTones>& costs = beat.starts_bar  ? manner_.on_one
                                                    : beat.is_strong ? manner_.on_strong
                                                                     : manner_.elsewhere;
        return costs[static_cast<std::size_t>(beat.tone(key))];
    }

    [[nodiscard]] static Cost rise_cost(int wanted, int is) {
        if (is == wanted) return 0;
        return is == -wanted ? kOctaveDown : kOffFigure;
    }

    // From beat i to the next one.
    [[nodiscard]] Cost pair_cost(std::size_t i, int key, int next) const {
        const BassBeat& beat = beats_[i];
        const BassBeat& after = beats_[i + 1];
        const int size = std::abs(next - key);
        if (size > 12) return kNever;
        Cost cost = manner_.leap[static_cast<std::size_t>(size)];
        if (after.rise) cost += rise_cost(*after.rise, next - key);
        const bool is_step = size == 1 || size == 2;
        if (beat.is_outside(key) && (!is_step || after.is_outside(next) || !beat.leads_on)) return kNever;
        if (beat.is_outside(key) && size == 2) cost += beat.tone(key) == BassTone::Other ? 25 : 3;
        const bool leads = beat.leads_on && !beat.is_change && (after.is_change || after.starts_bar);
        if (beat.wish) return cost + (beat.wish == motion_of(size) ? 0 : beat.wish_cost);
        if (leads && !is_step) cost += size == 5 || size == 7 ? 22 : 32;
        // A half step into a root is what makes a change heard before it comes.
        if (leads && size == 1 && after.is_change) cost -= 3;
        if (leads && beat.tone(key) == BassTone::Other && is_step) cost -= manner_.chromatic_lead;
        return cost;
    }

    // Three notes in a row: contour, and the passing notes that no chord has.
    [[nodiscard]] Cost triple_cost(std::size_t i, int before, int key, int next) const {
        const BassBeat& beat = beats_[i + 1];
        const BassBeat& after = beats_[i + 2];
        const int first = key - before;
        const int second = next - key;
        Cost cost = 0;
        if (after.rise_of_two) cost += rise_cost(*after.rise_of_two, next - before);
        const bool is_approach = after.is_change || after.starts_bar;
        if (beat.is_outside(key) && !is_approach) {
            const bool is_passing = manner_.has_passing && std::abs(first) <= 2 && first * second > 0;
            const bool is_neighbour =
                manner_.has_neighbours && std::abs(first) <= 2 && beat.tone(key) == BassTone::Scale;
            if (!is_passing && !is_neighbour) return kNever;
        }
        if (before == next) cost += first == 0 ? manner_.three_alike : manner_.back_and_forth;
        if (first * second > 0 && std::abs(first) > 4 && std::abs(second) > 4) cost += 22;
        if (std::abs(first) > 7 && first * second > 0) cost += 15;
        if (first * second < 0 && std::abs(first) <= 2 && std::abs(second) <= 2) cost += manner_.turning;
        return cost;
    }

    const std::vector<BassBeat>& beats_;
    const Manner& manner_;
    std::vector<std::array<Cost, kKeys>> whim_;
};

}  // namespace

BassMotion motion_of(int semitones) {
    const int size = std::abs(semitones);
    if (size == 0) return BassMotion::Same;
    if (size <= 2) return BassMotion::Step;
    if (size <= 4) return BassMotion::Third;
    if (size == 6) return BassMotion::Tritone;
    return size <= 7 ? BassMotion::Fourth : BassMotion::Wide;
}

std::vector<int> cheapest_keys(const std::vector<BassBeat>& beats, BassManner manner, unsigned seed) {
    return beats.empty() ? std::vector<int>{} : BassSearch{beats, manner, seed}.keys();
}

}  // namespace shedbook
