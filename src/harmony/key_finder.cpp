#include "key_finder.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "blues_form.h"
#include "hearing.h"
#include "home_ends.h"
#include "key_paths.h"

namespace shedbook {
namespace {

constexpr int kHomesTried = 8;  // the right one was never lower in the first ranking of any chart looked at
using PerKey = std::array<double, kKeys>;

// A blues and its major key are one home to a player.
bool same_home(Tonality a, Tonality b) {
    return a.tonic == b.tonic && (a.ground == Ground::Minor) == (b.ground == Ground::Minor);
}

KeyReading find_from_first(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated,
                           Said said, const KeyModel& model) {
    KeyReading out;
    out.cost_of_home.fill(kUntried);
    KeyPaths paths{chords, model};
    PerKey ends{};
    PerKey rank{};
    for (int key = 0; key < kKeys; ++key) {
        const auto k = static_cast<std::size_t>(key);
        ends[k] = cost_of_ends(chords, stated, tonality(key), model.scores);
        rank[k] = paths.all_in(key) + ends[k];
    }
    std::array<int, kKeys> order{};
    std::iota(order.begin(), order.end(), 0);
    std::ranges::stable_sort(order, {}, [&](int key) { return rank[static_cast<std::size_t>(key)]; });
    double least = kUntried;
    int tried = 0;
    for (const int home : order) {
        const bool allowed = said == Said::Hint || !stated || same_home(tonality(home), *stated);
        if (!allowed || ++tried > kHomesTried) continue;
        const auto h = static_cast<std::size_t>(home);
        out.cost_of_home[h] = paths.best(home, least - ends[h], out.keys) + ends[h];
        if (out.cost_of_home[h] < least) {
            least = out.cost_of_home[h];
            out.home = tonality(home);
        }
    }
    return out;
}

void weigh_homes(const std::vector<ChordView>& chords, const KeyScores& scores, KeyReading& reading) {
    double length = 0;
    for (const ChordView& chord : chords) length += std::pow(chord.beats, scores.duration);
    const double unit = scores.doubt * std::sqrt(length);
    const double least = *std::ranges::min_element(reading.cost_of_home);
    double sum = 0;
    for (std::size_t key = 0; key < kKeys; ++key) {
        reading.belief[key] = std::exp((least - reading.cost_of_home[key]) / unit);
        sum += reading.belief[key];
    }
    for (double& belief : reading.belief) belief /= sum;
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

// A tune that ends on its own tonic has come home, wherever it was before.
void end_at_home(const std::vector<ChordView>& chords, KeyReading& reading) {
    if (is_tonic_chord(chords.back(), reading.home)) reading.keys.back() = reading.home;
}

// A V, and the ii before it, belong to the key that begins where they come home.
void lead_into_new_keys(const std::vector<ChordView>& chords, std::vector<Tonality>& keys) {
    for (std::size_t i = chords.size(); i-- > 1;) {
        const bool begins = keys[i] != keys[i - 1] && is_tonic_chord(chords[i], keys[i]);
        if (!begins || !is_five_one(chords[i - 1], chords[i])) continue;
        keys[i - 1] = keys[i];
        if (i > 1 && is_two_five(chords[i - 2], chords[i - 1])) keys[i - 2] = keys[i];
    }
}

}  // namespace

const KeyModel& key_model() {
    static const KeyModel model;
    return model;
}

KeyReading find_keys(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated, Said said,
                     const KeyModel& model) {
    if (chords.empty()) return {stated.value_or(Tonality{}), {}, {}, {}};
    // Heard from the first root, so that ties between keys fall alike in every transposition.
    const int first = chords.front().root;
    std::vector<ChordView> moved = chords;
    for (ChordView& chord : moved) chord.root = above(chord.root, first);
    std::optional<Tonality> hint = stated;
    if (hint) hint->tonic = above(hint->tonic, first);

    KeyReading out = find_from_first(moved, hint, said, model);
    weigh_homes(moved, model.scores, out);
    end_at_home(moved, out);
    lead_into_new_keys(moved, out.keys);
    settle_blues(moved, out);
    out.home.tonic = modulo12(out.home.tonic + first);
    for (Tonality& key : out.keys) key.tonic = modulo12(key.tonic + first);
    for (int ground = 0; ground < kGrounds; ++ground) {
        for (auto* per_key : {&out.cost_of_home, &out.belief}) {
            const auto begin = per_key->begin() + 12 * ground;
            std::rotate(begin, begin + (12 - first) % 12, begin + 12);
        }
    }
    return out;
}

namespace {

// All voices, own chords and cadences heard as if the tune never left home.
Voices voices_of(const std::vector<ChordView>& chords, const std::optional<Tonality>& stated, Tonality home,
                 const KeyModel& model) {
    Voices out = voices_of_ends(chords, stated, home, model.scores);
    const Hearing hearing{chords, model};
    for (int i = 0; i < static_cast<int>(chords.size()); ++i) {
        const double weight = std::pow(chords[static_cast<std::size_t>(i)].beats, model.scores.duration);
        out[static_cast<std::size_t>(Voice::OwnChords)] -= hearing.place(i, home) * weight;
        out[static_cast<std::size_t>(Voice::Cadences)] += hearing.gain(i, home);
    }
    return out;
}

std::optional<Voice> loudest(const Voices& mine, const Voices& other) {
    std::optional<Voice> out;
    double most = 0;
    for (std::size_t i = 0; i < kVoices; ++i) {
        if (mine[i] - other[i] <= most) continue;
        most = mine[i] - other[i];
        out = static_cast<Voice>(i);
    }
    return out;
}

}  // namespace

HomeOdds odds_of(const KeyReading& reading, const std::vector<ChordView>& chords,
                 const std::optional<Tonality>& stated, const KeyModel& model) {
    HomeOdds out;
    out.probability = 0;
    std::array<double, kKeys> other{};
    for (int key = 0; key < kKeys; ++key) {
        const double belief = reading.belief[static_cast<std::size_t>(key)];
        if (same_home(tonality(key), reading.home)) {
            out.probability += belief;
        } else {
            const Ground ground = tonality(key).ground == Ground::Minor ? Ground::Minor : Ground::Major;
            other[static_cast<std::size_t>(index_of({key % 12, ground}))] += belief;
        }
    }
    const auto most = std::ranges::max_element(other);
    if (*most <= 0) return out;
    out.runner_up = tonality(static_cast<int>(most - other.begin()));
    const Voices home = voices_of(chords, stated, reading.home, model);
    const Voices second = voices_of(chords, stated, *out.runner_up, model);
    out.for_home = loudest(home, second);
    out.for_runner_up = loudest(second, home);
    return out;
}

}  // namespace shedbook
