#include "key_finder.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace shedbook {
namespace {

constexpr int kKeys = 12 * kGrounds;
constexpr int kHomesTried = 8;  // the right one was never lower in the first ranking of any chart looked at
using PerKey = std::array<double, kKeys>;

constexpr Tonality tonality(int key) {
    return {key % 12, static_cast<Ground>(key / 12)};
}

// A tonic with a flat seventh outside a blues, or without a third: it may as well lead on.
bool is_doubtful_tonic(const ChordView& chord, Tonality key) {
    return (chord.sound == Sound::Dominant && key.ground != Ground::Blues) || chord.sound == Sound::Suspended;
}

// What it costs to hear each chord in each key.
class Hearing {
  public:
    Hearing(const std::vector<ChordView>& chords, const KeyScores& scores)
        : chords_{chords}, scores_{scores} {}

    // `weight` is what the chord's length counts.
    double cost(int i, Tonality key, double weight) const {
        const ChordView& chord = at(i);
        double cost = place(i, key) * weight;
        if (is_tonic_chord(chord, key)) cost -= arrival(i, key);
        if (chord.sound == Sound::Dominant && degree(i, key) == 7) cost -= preparation(chord.prev, key);
        return cost;
    }

  private:
    const ChordView& at(int i) const { return chords_[static_cast<std::size_t>(i)]; }
    int degree(int i, Tonality key) const { return above(at(i).root, key.tonic); }
    int near(int i, Tonality key) const { return nearness(key.ground, at(i).sound, degree(i, key)); }
    bool belongs(int i, Tonality key) const { return near(i, key) <= 2; }

    // By its level, or as a chord that leads to one of the key.
    double place(int i, Tonality key) const {
        const double level = scores_.level[static_cast<std::size_t>(near(i, key))];
        return std::min(level, leading(i, key));
    }

    double leading(int i, Tonality key) const {
        const ChordView& chord = at(i);
        if (chord.next < 0) return kUntried;
        const ChordView& next = at(chord.next);
        const int fall = above(chord.root, next.root);
        const bool dominant = chord.sound == Sound::Dominant;
        if (next.root == key.tonic) {
            return dominant && fall == 1 && is_tonic_chord(next, key) ? scores_.substitute / 2 : kUntried;
        }
        const bool own = belongs(chord.next, key);
        if (fall == 7 && dominant && reaches_key(chord.next, key)) return scores_.applied;
        if (own && fall == 7 && chord.sound == Sound::Major) return scores_.applied + scores_.triad_share;
        if (own && fall == 1 && dominant) return scores_.substitute;
        if (own && fall == 11 && chord.sound == Sound::Diminished) return scores_.diminished_up;
        const bool two = chord.sound == Sound::MinorSeventh || chord.sound == Sound::HalfDiminished;
        if (two && fall == 7 && next.sound == Sound::Dominant && next.next >= 0) {
            const ChordView& goal = at(next.next);
            if (above(next.root, goal.root) == 7 && goal.root != key.tonic && belongs(next.next, key)) {
                return scores_.related;
            }
        }
        return kUntried;
    }

    // A chord of the key, or a dominant that falls by fifths through others to one (C7 F7 Bb7 Eb7 Ab in Ab).
    bool reaches_key(int i, Tonality key) const {
        constexpr int kLongestChain = 6;
        for (int steps = 0; steps < kLongestChain; ++steps) {
            if (belongs(i, key)) return true;
            const ChordView& chord = at(i);
            if (chord.sound != Sound::Dominant || chord.next <= i) return false;
            if (above(chord.root, at(chord.next).root) != 7) return false;
            i = chord.next;
        }
        return false;
    }

    // What a tonic chord gains by where it stands and by what led to it.
    double arrival(int i, Tonality key) const {
        const ChordView& chord = at(i);
        double gain = 0;
        if (chord.opens_section) gain += scores_.opens_section;
        if (chord.opens_phrase) gain += scores_.opens_phrase;
        if (i > 0 && chord.prev >= 0) gain += cadence(chord.prev, key);
        if (key.ground == Ground::Minor && chord.sound == Sound::MinorSeventh)
            gain *= scores_.minor_seventh_tonic;
        return is_doubtful_tonic(chord, key) ? gain * scores_.dominant_tonic : gain;
    }

    double cadence(int before, Tonality key) const {
        const ChordView& chord = at(before);
        const int d = degree(before, key);
        if (d == 7 && (chord.sound == Sound::Dominant || chord.sound == Sound::Suspended)) {
            const bool two =
                chord.prev >= 0 && degree(chord.prev, key) == 2 && can_be_two(at(chord.prev).sound);
            return scores_.fifth_cadence + (two ? scores_.two_five_one : 0);
        }
        if (d == 7 && chord.sound == Sound::Major) return scores_.fifth_cadence * scores_.triad_share;
        if (d == 1 && chord.sound == Sound::Dominant) return scores_.half_step_cadence;
        if (d == 10 && chord.sound == Sound::Dominant) return scores_.backdoor;
        return d == 5 ? scores_.plagal : 0;
    }

    double preparation(int before, Tonality key) const {
        if (before < 0 || degree(before, key) != 2) return 0;
        const Sound expected = key.ground == Ground::Minor ? Sound::HalfDiminished : Sound::MinorSeventh;
        return at(before).sound == expected ? scores_.two_five : 0;
    }

    static bool can_be_two(Sound sound) {
        return sound == Sound::MinorSeventh || sound == Sound::HalfDiminished || sound == Sound::Minor;
    }

    const std::vector<ChordView>& chords_;
    const KeyScores& scores_;
};

// The tonic chord of the last cadence V I, if nothing but a turnaround of two bars follows; -1 without one.
int final_tonic(const std::vector<ChordView>& chords) {
    constexpr double kTurnaround = 8;
    double after = 0;
    for (int i = static_cast<int>(chords.size()) - 1; i > 0 && after <= kTurnaround; --i) {
        const ChordView& chord = chords[static_cast<std::size_t>(i)];
        const ChordView& before = chords[static_cast<std::size_t>(i - 1)];
        const int fall = above(before.root, chord.root);
        const bool rests = is_major_sound(chord.sound) || is_minor_sound(chord.sound);
        if (rests && (fall == 7 || fall == 1) && before.sound == Sound::Dominant) return i;
        after += chord.beats;
    }
    return -1;
}

}  // namespace

bool has_blues_form(const std::vector<ChordView>& chords, int tonic) {
    constexpr double kMostOfIt = 0.75;
    return blues_form(chords, tonic) >= kMostOfIt;
}

double blues_form(const std::vector<ChordView>& chords, int tonic) {
    const int bars = chords.empty() ? 0 : chords.back().bar + 1;
    // The last bar may hold no symbol of its own.
    const int choruses = (bars + 2) / 12;
    if (choruses == 0 || bars > 12 * choruses) return 0;
    // Root in half steps over the tonic, by bar; the last chord begun in or before it.
    const auto starts_with = [&](std::size_t& i, int bar) {
        while (i + 1 < chords.size() && chords[i + 1].bar <= bar - (chords[i + 1].opens_bar ? 0 : 1)) ++i;
        return above(chords[i].root, tonic);
    };
    double sum = 0;
    std::size_t i = 0;
    for (int chorus = 0; chorus < choruses; ++chorus) {
        const auto root = [&](int bar) { return starts_with(i, 12 * chorus + bar - 1); };
        sum += root(1) == 0 ? 1 : 0;
        sum += root(5) == 5 ? 1 : 0;
        sum += root(7) == 0 ? 1 : 0;
        const int ninth = root(9);
        const int tenth = root(10);
        sum += ninth == 7 || tenth == 7 || tenth == 1 ? 1 : 0;
    }
    return sum / (4 * choruses);
}

namespace {

// How far a home agrees with the key that the chart states: fully, or in part if it has only the same
// signature (a lead sheet often states no more than that).
double agreement(Tonality stated, Tonality home) {
    const bool same_mode = (stated.ground == Ground::Minor) == (home.ground == Ground::Minor);
    if (stated.tonic == home.tonic && same_mode) return 1;
    return !same_mode && fifths_apart(stated, home) == 0 ? 0.3 : 0;
}

// What a home key gains by the ends of the tune, by being named, and loses by being rare.
double cost_of_ends(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                    Tonality home, const KeyScores& scores) {
    double cost = 0;
    if (home.ground == Ground::Minor) cost += scores.minor;
    const bool is_blues_form = has_blues_form(chords, home.tonic);
    if (is_blues_form) cost -= scores.blues_form;
    if (home.ground == Ground::Blues && !is_blues_form) cost += scores.blues;
    const int final = final_tonic(chords);
    if (final >= 0 && is_tonic_chord(chords[static_cast<std::size_t>(final)], home))
        cost -= scores.final_cadence;
    const bool begins = is_tonic_chord(chords.front(), home);
    const ChordView& last = chords.back();
    if (begins) cost -= scores.first_chord;
    if (is_tonic_chord(last, home)) {
        cost -= is_doubtful_tonic(last, home) ? 0.6 * scores.last_chord : scores.last_chord;
    } else if (last.sound == Sound::Dominant) {
        const int d = above(last.root, home.tonic);
        if (d == 7 || d == 1) cost -= begins ? scores.turns_back : 0.4 * scores.turns_back;
    }
    if (stated) cost -= scores.stated * agreement(*stated, home);
    return cost;
}

class KeyPaths {
  public:
    KeyPaths(const std::vector<ChordView>& chords, const KeyScores& scores)
        : count_{chords.size()}, scores_{scores} {
        const Hearing hearing{chords, scores};
        heard_.resize(count_);
        away_.resize(count_);
        cost_.resize(count_);
        double total = 0;
        for (const ChordView& chord : chords) total += chord.beats;
        for (std::size_t i = 0; i < count_; ++i) {
            const double weight = std::pow(chords[i].beats, scores.duration);
            away_[i] = static_cast<float>(scores.away * weight + scores.away_share * chords[i].beats / total);
            for (int key = 0; key < kKeys; ++key) {
                heard_[i][index(key)] =
                    static_cast<float>(hearing.cost(static_cast<int>(i), tonality(key), weight));
            }
        }
        for (int from = 0; from < kKeys; ++from) {
            for (int to = 0; to < kKeys; ++to) {
                change_[index(from)][index(to)] = static_cast<float>(change(tonality(from), tonality(to)));
            }
        }
    }

    // The tune heard in one key throughout: enough to rank the homes worth trying.
    double all_in(int key) const {
        double sum = 0;
        for (const Costs& heard : heard_) sum += static_cast<double>(heard[index(key)]);
        return sum;
    }

    // Cost of the best path with this home; `keys` becomes that path if it is cheaper than `limit`.
    double best(int home, double limit, std::vector<Tonality>& keys) {
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

  private:
    using Costs = std::array<float, kKeys>;

    static std::size_t index(int key) { return static_cast<std::size_t>(key); }

    double change(Tonality from, Tonality to) const {
        if (from == to) return 0;
        const double entered = to.ground == Ground::Blues ? scores_.blues : 0;
        const bool minor = from.ground == Ground::Minor || to.ground == Ground::Minor;
        if (from.tonic == to.tonic && !minor) return scores_.change / 2 + scores_.blues;
        return scores_.change + scores_.per_fifth * fifths_apart(from, to) + entered;
    }

    // Every way on from every key; the path itself is found afterwards, so this is all that takes time. The
    // least cost is taken off and given back, so that the numbers stay small in the longest tune.
    double step(std::size_t i, int home) {
        Costs least;
        least.fill(static_cast<float>(kUntried));
        for (std::size_t from = 0; from < kKeys; ++from) {
            const float so_far = cost_[i - 1][from];
            for (std::size_t to = 0; to < kKeys; ++to)
                least[to] = std::min(least[to], so_far + change_[from][to]);
        }
        for (std::size_t to = 0; to < kKeys; ++to) {
            cost_[i][to] = least[to] + heard_[i][to] + (to == index(home) ? 0 : away_[i]);
        }
        const float lowest = *std::ranges::min_element(cost_[i]);
        for (float& cost : cost_[i]) cost -= lowest;
        return static_cast<double>(lowest);
    }

    void trace(int key, std::vector<Tonality>& keys) const {
        keys.resize(count_);
        for (std::size_t i = count_; i-- > 0;) {
            keys[i] = tonality(key);
            if (i == 0) break;
            // Staying is preferred where it costs the same.
            int from = key;
            float least = cost_[i - 1][index(key)];
            for (int other = 0; other < kKeys; ++other) {
                const float sum = cost_[i - 1][index(other)] + change_[index(other)][index(key)];
                if (sum < least) {
                    least = sum;
                    from = other;
                }
            }
            key = from;
        }
    }

    std::size_t count_;
    const KeyScores& scores_;
    std::vector<Costs> heard_;
    std::vector<float> away_;
    std::vector<Costs> cost_;  // of the best path to each key at each chord
    std::array<Costs, kKeys> change_{};
};

KeyReading find_from_first(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                           const KeyScores& scores) {
    KeyReading out;
    out.cost_of_home.fill(kUntried);
    KeyPaths paths{chords, scores};
    PerKey ends{};
    PerKey rank{};
    for (int key = 0; key < kKeys; ++key) {
        const auto k = static_cast<std::size_t>(key);
        ends[k] = cost_of_ends(chords, stated, tonality(key), scores);
        rank[k] = paths.all_in(key) + ends[k];
    }
    std::array<int, kKeys> order{};
    std::iota(order.begin(), order.end(), 0);
    std::ranges::stable_sort(order, {}, [&](int key) { return rank[static_cast<std::size_t>(key)]; });
    double least = kUntried;
    for (int i = 0; i < kHomesTried; ++i) {
        const int home = order[static_cast<std::size_t>(i)];
        const auto h = static_cast<std::size_t>(home);
        out.cost_of_home[h] = paths.best(home, least - ends[h], out.keys) + ends[h];
        if (out.cost_of_home[h] < least) {
            least = out.cost_of_home[h];
            out.home = tonality(home);
        }
    }
    return out;
}

// A blues whose I or IV rests on its flat seventh is a blues all through, however smooth its other chords
// are; and its IV is no key of its own.
void settle_blues(const std::vector<ChordView>& chords, KeyReading& reading) {
    const int tonic = reading.home.tonic;
    if (!has_blues_form(chords, tonic)) return;
    double rests = 0;
    double sevenths = 0;
    for (const ChordView& chord : chords) {
        const int degree = above(chord.root, tonic);
        if (degree != 0 && degree != 5) continue;
        rests += chord.beats;
        if (chord.sound == Sound::Dominant) sevenths += chord.beats;
    }
    Tonality settled = reading.home;
    if (settled.ground == Ground::Major && sevenths >= rests / 3) settled.ground = Ground::Blues;
    for (Tonality& key : reading.keys) {
        const bool on_four = key.tonic == modulo12(tonic + 5);
        if (key == reading.home || on_four) key = settled;
    }
    reading.home = settled;
}

}  // namespace

bool is_tonic_chord(const ChordView& chord, Tonality key) {
    if (chord.root != key.tonic) return false;
    // Its fourth leaves the third open; with a flat seventh it leads, or it is the ground of a major mode.
    if (chord.sound == Sound::Suspended) return key.ground != Ground::Minor || (chord.tones & 1U << 10U) == 0;
    if (key.ground == Ground::Minor) return is_minor_sound(chord.sound);
    return is_major_sound(chord.sound) || chord.sound == Sound::Dominant;
}

KeyReading find_keys(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                     const KeyScores& scores) {
    if (chords.empty()) return {stated.value_or(Tonality{}), {}, {}};
    // Heard from the first root, so that ties between keys fall alike in every transposition.
    const int first = chords.front().root;
    std::vector<ChordView> moved = chords;
    for (ChordView& chord : moved) chord.root = above(chord.root, first);
    std::optional<Tonality> hint = stated;
    if (hint) hint->tonic = above(hint->tonic, first);

    KeyReading out = find_from_first(moved, hint, scores);
    settle_blues(moved, out);
    out.home.tonic = modulo12(out.home.tonic + first);
    for (Tonality& key : out.keys) key.tonic = modulo12(key.tonic + first);
    for (int ground = 0; ground < kGrounds; ++ground) {
        const auto begin = out.cost_of_home.begin() + 12 * ground;
        std::rotate(begin, begin + (12 - first) % 12, begin + 12);
    }
    return out;
}

}  // namespace shedbook
