#include "key_paths.h"

#include <algorithm>
#include <cmath>

#include "hearing.h"

namespace shedbook {
namespace {

constexpr std::size_t index(int key) {
    return static_cast<std::size_t>(key);
}

}  // namespace

KeyPaths::KeyPaths(const std::vector<ChordView>& chords, const KeyModel& model)
    : count_{chords.size()}, scores_{model.scores} {
    const KeyScores& scores = model.scores;
    const Hearing hearing{chords, model};
    heard_.resize(count_);
    away_.resize(count_);
    place_.resize(count_);
    cost_.resize(count_);
    double total = 0;
    for (const ChordView& chord : chords) total += chord.beats;
    for (std::size_t i = 0; i < count_; ++i) {
        const ChordView& chord = chords[i];
        const double weight = std::pow(chord.beats, scores.duration);
        away_[i] = static_cast<float>(scores.away * weight + scores.away_share * chord.beats / total);
        place_[i] = place_of(chords, i);
        for (int key = 0; key < kKeys; ++key) {
            const int place = static_cast<int>(i);
            heard_[i][index(key)] = static_cast<float>(hearing.place(place, tonality(key)) * weight -
                                                       hearing.gain(place, tonality(key)));
        }
    }
    const std::array<double, kPlaces> shares{scores.at_section, scores.at_phrase, 1, scores.inside_bar,
                                             scores.inside_two_five};
    for (std::size_t place = 0; place < kPlaces; ++place) {
        for (int from = 0; from < kKeys; ++from) {
            for (int to = 0; to < kKeys; ++to) {
                changes_[place][index(from)][index(to)] =
                    static_cast<float>(change(tonality(from), tonality(to), shares[place]));
            }
        }
    }
}

KeyPaths::Place KeyPaths::place_of(const std::vector<ChordView>& chords, std::size_t i) {
    const ChordView& chord = chords[i];
    if (i > 0 && is_two_five(chords[i - 1], chord)) return Place::InsideTwoFive;
    if (chord.opens_section) return Place::Section;
    if (chord.opens_phrase) return Place::Phrase;
    return chord.opens_bar ? Place::Bar : Place::InsideBar;
}

double KeyPaths::all_in(int key) const {
    double sum = 0;
    for (const Costs& heard : heard_) sum += static_cast<double>(heard[index(key)]);
    return sum;
}

double KeyPaths::best(int home, double limit, std::vector<Tonality>& keys) {
    const auto outside = static_cast<float>(scores_.change / 2);
    for (int key = 0; key < kKeys; ++key) {
        cost_[0][index(key)] = heard_[0][index(key)] + (key == home ? 0 : outside + away_[0]);
    }
    double sum = 0;
    for (std::size_t i = 1; i < count_; ++i) sum += step(i, home);
    Costs last = cost_.back();
    for (int key = 0; key < kKeys; ++key) last[index(key)] += key == home ? 0 : outside;
    const auto least = std::ranges::min_element(last);
    const double whole = sum + static_cast<double>(*least);
    if (whole < limit) trace(static_cast<int>(least - last.begin()), keys);
    return whole;
}

double KeyPaths::change(Tonality from, Tonality to, double share) const {
    if (from == to) return 0;
    const double entered = to.ground == Ground::Blues ? scores_.blues : 0;
    const bool minor = from.ground == Ground::Minor || to.ground == Ground::Minor;
    if (from.tonic == to.tonic && !minor) return scores_.change / 2 + scores_.blues;
    return share * scores_.change + scores_.per_fifth * fifths_apart(from, to) + entered;
}

// Every way on from every key; the path itself is found afterwards, so this is all that takes time. The least
// cost is taken off and given back, so that the numbers stay small in the longest tune.
double KeyPaths::step(std::size_t i, int home) {
    const Changes& changes = changes_[static_cast<std::size_t>(place_[i])];
    Costs least;
    least.fill(static_cast<float>(kUntried));
    for (std::size_t from = 0; from < kKeys; ++from) {
        const float so_far = cost_[i - 1][from];
        for (std::size_t to = 0; to < kKeys; ++to)
            least[to] = std::min(least[to], so_far + changes[from][to]);
    }
    for (std::size_t to = 0; to < kKeys; ++to) {
        cost_[i][to] = least[to] + heard_[i][to] + (to == index(home) ? 0 : away_[i]);
    }
    const float lowest = *std::ranges::min_element(cost_[i]);
    for (float& cost : cost_[i]) cost -= lowest;
    return static_cast<double>(lowest);
}

void KeyPaths::trace(int key, std::vector<Tonality>& keys) const {
    keys.resize(count_);
    for (std::size_t i = count_; i-- > 0;) {
        keys[i] = tonality(key);
        if (i == 0) break;
        const Changes& changes = changes_[static_cast<std::size_t>(place_[i])];
        // Staying is preferred where it costs the same.
        int from = key;
        float least = cost_[i - 1][index(key)];
        for (int other = 0; other < kKeys; ++other) {
            const float sum = cost_[i - 1][index(other)] + changes[index(other)][index(key)];
            if (sum < least) {
                least = sum;
                from = other;
            }
        }
        key = from;
    }
}

}  // namespace shedbook
