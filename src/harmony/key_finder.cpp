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

// Steps between two signatures on the circle of fifths.
int fifths_apart(Tonality a, Tonality b) {
    const auto signature = [](Tonality key) {
        return modulo12(7 * (key.ground == Ground::Minor ? key.tonic + 3 : key.tonic));
    };
    const int up = modulo12(signature(a) - signature(b));
    return std::min(up, 12 - up);
}

// What it costs to hear each chord in each key.
class Hearing {
  public:
    Hearing(const std::vector<ChordView>& chords, const KeyScores& scores)
        : chords_{chords}, scores_{scores} {}

    double cost(int i, Tonality key) const {
        const ChordView& chord = at(i);
        double cost = place(i, key) * std::pow(chord.beats, scores_.duration);
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
        if (own && fall == 7 && dominant) return scores_.applied;
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

    // What a tonic chord gains by where it stands and by what led to it.
    double arrival(int i, Tonality key) const {
        const ChordView& chord = at(i);
        double gain = 0;
        if (chord.opens_section) gain += scores_.opens_section;
        if (chord.opens_phrase) gain += scores_.opens_phrase;
        if (i > 0 && chord.prev >= 0) gain += cadence(chord.prev, key);
        const bool doubtful = chord.sound == Sound::Dominant && key.ground != Ground::Blues;
        return doubtful ? gain * scores_.dominant_tonic : gain;
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

// What a home key gains by the ends of the tune, by being named, and loses by being rare.
double cost_of_ends(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                    Tonality home, const KeyScores& scores) {
    double cost = 0;
    if (home.ground == Ground::Minor) cost += scores.minor;
    if (home.ground == Ground::Blues) cost += scores.blues;
    const bool begins = is_tonic_chord(chords.front(), home);
    const ChordView& last = chords.back();
    if (begins) cost -= scores.first_chord;
    if (is_tonic_chord(last, home)) {
        cost -= last.sound == Sound::Dominant ? 0.6 * scores.last_chord : scores.last_chord;
    } else if (last.sound == Sound::Dominant) {
        const int d = above(last.root, home.tonic);
        if (d == 7 || d == 1) cost -= begins ? scores.turns_back : 0.4 * scores.turns_back;
    }
    if (stated && stated->tonic == home.tonic &&
        (stated->ground == Ground::Minor) == (home.ground == Ground::Minor)) {
        cost -= scores.stated;
    }
    return cost;
}

class KeyPaths {
  public:
    KeyPaths(const std::vector<ChordView>& chords, const KeyScores& scores)
        : count_{chords.size()}, scores_{scores} {
        const Hearing hearing{chords, scores};
        heard_.resize(count_);
        away_.resize(count_);
        back_.resize(count_);
        for (std::size_t i = 0; i < count_; ++i) {
            away_[i] = scores.away * std::pow(chords[i].beats, scores.duration);
            for (int key = 0; key < kKeys; ++key) {
                heard_[i][index(key)] = hearing.cost(static_cast<int>(i), tonality(key));
            }
        }
        for (int from = 0; from < kKeys; ++from) {
            for (int to = 0; to < kKeys; ++to)
                change_[index(from)][index(to)] = change(tonality(from), tonality(to));
        }
    }

    // The tune heard in one key throughout: enough to rank the homes worth trying.
    double all_in(int key) const {
        double sum = 0;
        for (const PerKey& heard : heard_) sum += heard[index(key)];
        return sum;
    }

    // Cost of the best path with this home; `keys` becomes that path if it is cheaper than `limit`.
    double best(int home, double limit, std::vector<Tonality>& keys) {
        PerKey cost{};
        for (int key = 0; key < kKeys; ++key) {
            const double start = key == home ? 0 : scores_.change / 2 + away_[0];
            cost[index(key)] = heard_[0][index(key)] + start;
        }
        for (std::size_t i = 1; i < count_; ++i) step(i, home, cost);
        for (int key = 0; key < kKeys; ++key) cost[index(key)] += key == home ? 0 : scores_.change / 2;
        const auto least = std::ranges::min_element(cost);
        if (*least >= limit) return *least;
        keys.resize(count_);
        int key = static_cast<int>(least - cost.begin());
        for (std::size_t i = count_; i-- > 0;) {
            keys[i] = tonality(key);
            if (i > 0) key = back_[i][index(key)];
        }
        return *least;
    }

  private:
    static std::size_t index(int key) { return static_cast<std::size_t>(key); }

    double change(Tonality from, Tonality to) const {
        if (from == to) return 0;
        const double entered = to.ground == Ground::Blues ? scores_.blues : 0;
        const bool minor = from.ground == Ground::Minor || to.ground == Ground::Minor;
        if (from.tonic == to.tonic && !minor) return scores_.change / 2 + scores_.blues;
        return scores_.change + scores_.per_fifth * fifths_apart(from, to) + entered;
    }

    void step(std::size_t i, int home, PerKey& cost) {
        PerKey next{};
        for (int to = 0; to < kKeys; ++to) {
            double least = cost[index(to)];
            int best_from = to;
            for (int from = 0; from < kKeys; ++from) {
                const double sum = cost[index(from)] + change_[index(from)][index(to)];
                if (sum < least) {
                    least = sum;
                    best_from = from;
                }
            }
            next[index(to)] = least + heard_[i][index(to)] + (to == home ? 0 : away_[i]);
            back_[i][index(to)] = static_cast<signed char>(best_from);
        }
        cost = next;
    }

    std::size_t count_;
    const KeyScores& scores_;
    std::vector<PerKey> heard_;
    std::vector<double> away_;
    std::vector<std::array<signed char, kKeys>> back_;
    std::array<PerKey, kKeys> change_{};
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

}  // namespace

bool is_tonic_chord(const ChordView& chord, Tonality key) {
    if (chord.root != key.tonic) return false;
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
    out.home.tonic = modulo12(out.home.tonic + first);
    for (Tonality& key : out.keys) key.tonic = modulo12(key.tonic + first);
    for (int ground = 0; ground < kGrounds; ++ground) {
        const auto begin = out.cost_of_home.begin() + 12 * ground;
        std::rotate(begin, begin + (12 - first) % 12, begin + 12);
    }
    return out;
}

}  // namespace shedbook
