#include "shedbook/book/key_order.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <numeric>
#include <random>

namespace shedbook {
namespace {

constexpr int kKeys = 12;

// Step from key to key, and how often it is taken before the next row begins a half step higher (an order of
// minor thirds goes round after four).
struct Walk {
    KeyOrder order;
    int step;
    int in_a_row;
};
constexpr Walk kWalks[] = {{KeyOrder::Chromatic, 1, 12}, {KeyOrder::Fourths, 5, 12},
                           {KeyOrder::Fifths, 7, 12},    {KeyOrder::MinorThirds, 3, 4},
                           {KeyOrder::WholeTones, 2, 6}, {KeyOrder::Hardest, 1, 12},
                           {KeyOrder::Shuffle, 1, 12}};
static_assert(has_a_row_each(kWalks, &Walk::order));

int accidentals_in(const std::vector<PitchClass>& notes) {
    int out = 0;
    for (const PitchClass note : notes) out += std::abs(note.alter()) + (std::abs(note.alter()) > 1 ? 8 : 0);
    return out;
}

SheetTopic moved(const SheetTopic& topic, Interval by) {
    SheetTopic out = topic;
    out.scale.scale.tonic = topic.scale.scale.tonic + by;
    out.scale.notes = spelled(out.scale.scale);
    if (topic.symbol) {
        out.symbol = transposed(*topic.symbol, by);
        out.scale = scales_for(*out.symbol).front();
    }
    return out;
}

// So many semitones up, under the name that needs the fewest accidentals.
SheetTopic in_key(const SheetTopic& topic, int semitones, Prefer prefer) {
    constexpr std::array<int, kKeys> kSteps{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
    const Interval plain{kSteps[static_cast<std::size_t>(semitones)], semitones};
    SheetTopic best;
    int fewest = 0;
    bool found = false;
    for (const int letters : {0, -1, 1}) {
        const Interval by = plain + letters * kDiminishedSecond;
        const PitchClass root = topic.scale.scale.tonic + by;
        if (std::abs(root.alter()) > 1) continue;
        SheetTopic here = moved(topic, by);
        // The side asked for wins where both names can be written.
        const bool is_preferred =
            (prefer == Prefer::Sharps && root.alter() > 0) || (prefer == Prefer::Flats && root.alter() < 0);
        const int count = 2 * accidentals_in(here.scale.notes) - (is_preferred ? 5 : 0);
        if (found && count >= fewest) continue;
        best = std::move(here);
        fewest = count;
        found = true;
    }
    return best;
}

int written_accidentals(const SheetTopic& topic, const Instrument& instrument, Prefer prefer) {
    const Interval by = written_interval(instrument, std::nullopt, topic.scale.notes, prefer);
    std::vector<PitchClass> notes;
    for (const PitchClass note : topic.scale.notes) notes.push_back(note + by);
    return accidentals_in(notes);
}

}  // namespace

std::vector<int> keys_in_order(KeyOrder order, std::uint64_t seed) {
    std::vector<int> out(kKeys);
    std::iota(out.begin(), out.end(), 0);
    if (order == KeyOrder::Hardest) return out;
    if (order == KeyOrder::Shuffle) {
        std::mt19937_64 random{seed};
        for (std::size_t i = out.size(); i > 1; --i) std::swap(out[i - 1], out[random() % i]);
        return out;
    }
    const Walk& walk = kWalks[row_index(order)];
    for (int i = 0; i < kKeys; ++i)
        out[static_cast<std::size_t>(i)] = (i / walk.in_a_row + i % walk.in_a_row * walk.step) % kKeys;
    return out;
}

std::vector<SheetTopic> in_all_keys(const std::vector<SheetTopic>& topics, const KeyOrderOptions& options,
                                    const Instrument& instrument) {
    std::vector<SheetTopic> out;
    for (const SheetTopic& topic : topics) {
        std::vector<SheetTopic> keys;
        for (const int semitones : keys_in_order(options.order, options.seed))
            keys.push_back(in_key(topic, semitones, options.prefer));
        if (options.order == KeyOrder::Hardest) {
            std::ranges::stable_sort(keys, std::ranges::greater{}, [&](const SheetTopic& key) {
                return written_accidentals(key, instrument, options.prefer);
            });
        }
        out.insert(out.end(), keys.begin(), keys.end());
    }
    return out;
}

}  // namespace shedbook
