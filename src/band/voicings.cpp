#include "voicings.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <limits>
#include <optional>
#include <utility>

namespace shedbook {
namespace {

constexpr std::size_t kMostVoices = 4;

// The chord's tones by what they do; the first of a kind counts (b9 before #9).
struct Parts {
    std::optional<int> third, seventh, fifth, ninth, upper;  // upper: 11 or 13
};

Parts parts_of(const ChordSymbol& symbol) {
    Parts out;
    for (const ChordTone& tone : tones(symbol)) {
        const int at = tone.above_root.semitones() % 12;
        switch (tone.role) {
            case ChordRole::Root:
                break;
            case ChordRole::Third:
            case ChordRole::Fourth:
            case ChordRole::Second:
                if (!out.third || tone.role == ChordRole::Third) out.third = at;
                break;
            case ChordRole::Fifth:
                if (!out.fifth) out.fifth = at;
                break;
            case ChordRole::Sixth:
                if (!out.seventh) out.seventh = at;
                break;
            case ChordRole::Seventh:
                out.seventh = at;
                break;
            case ChordRole::Ninth:
                if (!out.ninth) out.ninth = at;
                break;
            case ChordRole::Eleventh:
            case ChordRole::Thirteenth:
                // A plain 11 rubs against a major third. An altered tone says more than a plain one, a 13
                // more than an 11.
                if ((at != 5 || out.third != 4) && out.upper != 6) out.upper = at;
                break;
        }
    }
    return out;
}

void place(const std::vector<int>& pitch_classes, KeySpan within, Voicing& so_far,
           std::vector<Voicing>& out) {
    if (so_far.size() == pitch_classes.size()) {
        Voicing voicing = so_far;
        std::ranges::sort(voicing);
        out.push_back(std::move(voicing));
        return;
    }
    for (int key = within.low; key <= within.high; ++key) {
        if (key % 12 != pitch_classes[so_far.size()]) continue;
        so_far.push_back(key);
        place(pitch_classes, within, so_far, out);
        so_far.pop_back();
    }
}

// Sum of the distances when the voices of the smaller chord go to as many of the larger, in order.
int least_sum(const Voicing& few, const Voicing& many, std::size_t i, std::size_t k) {
    if (i == few.size()) return 0;
    int best = std::numeric_limits<int>::max();
    for (std::size_t to = k; to + (few.size() - i) <= many.size(); ++to) {
        best = std::min(best, std::abs(few[i] - many[to]) + least_sum(few, many, i + 1, to + 1));
    }
    return best;
}

}  // namespace

std::vector<int> comping_tones(const ChordSymbol& symbol) {
    const Parts parts = parts_of(symbol);
    const int root = symbol.root.semitone();
    std::vector<int> out;
    const auto add = [&](std::optional<int> tone) {
        if (!tone || out.size() == kMostVoices) return;
        const int pitch_class = (root + *tone) % 12;
        if (std::ranges::find(out, pitch_class) == out.end()) out.push_back(pitch_class);
    };
    const bool is_altered = symbol.kind->id == "altered_seventh";
    const bool is_diminished_seventh = parts.seventh == 9 && family(symbol) == ChordFamily::Diminished;
    add(parts.third);
    add(parts.seventh);
    if (is_altered) {
        constexpr int kFlatThirteenth = 8;
        constexpr int kSharpNinth = 3;
        add(kFlatThirteenth);
        add(parts.ninth.value_or(kSharpNinth));
        return out;
    }
    if (is_diminished_seventh || !parts.third || !parts.seventh) add(0);
    // A written 11 or 13 takes the place of the fifth: they lie side by side.
    add(parts.upper ? parts.upper : parts.fifth);
    add(parts.ninth);
    return out;
}

std::vector<Voicing> voicings(const std::vector<int>& pitch_classes, KeySpan within) {
    std::vector<Voicing> out;
    Voicing so_far;
    place(pitch_classes, within, so_far, out);
    if (pitch_classes.size() == kMostVoices) {
        const std::vector<int> fewer(pitch_classes.begin(), pitch_classes.end() - 1);
        place(fewer, within, so_far, out);
    }
    return out;
}

int placement_cost(const Voicing& voicing, std::size_t tones, KeySpan within) {
    if (voicing.empty()) return 0;
    int cost = voicing.size() < tones ? 14 : 0;
    int sum = 0;
    for (std::size_t i = 0; i < voicing.size(); ++i) {
        sum += voicing[i];
        if (i == 0) continue;
        const int gap = voicing[i] - voicing[i - 1];
        // A half step at the bottom is mud, at the top it hides which note is the highest; a wide gap makes
        // two chords of one.
        if (gap == 1) cost += 18;
        if (gap == 2 && i == 1) cost += 4;
        if (gap > 8) cost += 8 * (gap - 8);
    }
    const int middle = (within.low + within.high) / 2;
    const int mean = sum * 10 / static_cast<int>(voicing.size());
    return cost + std::max(0, std::abs(mean - 10 * middle) - 20) / 2;
}

int movement_cost(const Voicing& from, const Voicing& to) {
    const Voicing& few = from.size() <= to.size() ? from : to;
    const Voicing& many = from.size() <= to.size() ? to : from;
    if (few.empty()) return 0;
    return 10 * least_sum(few, many, 0, 0) / static_cast<int>(few.size());
}

std::vector<Placed> placed_voicings(const std::vector<int>& pitch_classes, KeySpan within) {
    std::vector<Placed> out;
    for (Voicing& voicing : voicings(pitch_classes, within)) {
        const int cost = placement_cost(voicing, pitch_classes.size(), within);
        out.push_back({std::move(voicing), cost});
    }
    return out;
}

namespace {

// Another voicing is wanted, but not at the other end of the keyboard.
int unmoved_cost(const Voicing& from, const Voicing& to) {
    constexpr int kStays = 1000;
    constexpr int kFar = 30;
    if (from == to) return kStays;
    return 3 * std::max(0, movement_cost(from, to) - kFar);
}

int leap_cost(const Voicing& from, const Voicing& to, int most_at_top) {
    constexpr int kTooFar = 500;  // for each semitone
    if (most_at_top == kAnyLeap || from.empty() || to.empty()) return 0;
    return kTooFar * std::max(0, std::abs(to.back() - from.back()) - most_at_top);
}

}  // namespace

// By dynamic programming.
std::vector<std::size_t> cheapest_row(const std::vector<std::vector<Placed>>& choices,
                                      const std::vector<std::size_t>& moving, int most_at_top) {
    std::vector<std::vector<int>> cost(choices.size());
    std::vector<std::vector<std::size_t>> from(choices.size());
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const bool must_move = std::ranges::binary_search(moving, i);
        for (const Placed& placed : choices[i]) {
            int best = 0;
            std::size_t best_from = 0;
            for (std::size_t k = 0; i > 0 && k < choices[i - 1].size(); ++k) {
                const Voicing& last = choices[i - 1][k].voicing;
                int sum = cost[i - 1][k] + movement_cost(last, placed.voicing) +
                          leap_cost(last, placed.voicing, most_at_top);
                if (must_move) sum += unmoved_cost(last, placed.voicing);
                if (k > 0 && sum >= best) continue;
                best = sum;
                best_from = k;
            }
            cost[i].push_back(best + placed.cost);
            from[i].push_back(best_from);
        }
    }
    std::vector<std::size_t> out(choices.size());
    for (std::size_t i = choices.size(); i-- > 0;) {
        const bool is_last = i + 1 == choices.size();
        out[i] = is_last ? static_cast<std::size_t>(std::ranges::min_element(cost[i]) - cost[i].begin())
                         : from[i + 1][out[i + 1]];
    }
    return out;
}

std::vector<Voicing> lead_voices(const std::vector<std::vector<Placed>>& choices,
                                 const std::vector<std::size_t>& moving, int most_at_top) {
    const std::vector<std::size_t> row = cheapest_row(choices, moving, most_at_top);
    std::vector<Voicing> out;
    for (std::size_t i = 0; i < row.size(); ++i) out.push_back(choices[i][row[i]].voicing);
    return out;
}

}  // namespace shedbook
