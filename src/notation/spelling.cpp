#include <algorithm>
#include <array>
#include <cstdlib>
#include <limits>

#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Above six accidentals a key is respelled: common practice ("fewer accidentals"; Gould, Behind Bars, from
// memory).
constexpr int kMostAccidentals = 6;
constexpr std::array<Interval, 3> kRespellings{Interval{0, 0}, Interval{1, 0}, Interval{-1, 0}};

bool is_on_side(int fifths, Prefer prefer) {
    return (prefer == Prefer::Sharps && fifths > 0) || (prefer == Prefer::Flats && fifths < 0);
}

// Six sharps or six flats are as many: then the name that the transposition gives stays.
Interval respelling_for_key(PitchClass written_tonic, Mode mode, Prefer prefer) {
    Interval best = kUnison;
    int best_cost = std::numeric_limits<int>::max();
    for (const Interval respelling : kRespellings) {
        const int fifths = signature(Key{written_tonic + respelling, mode});
        int cost = std::abs(fifths);
        if (std::abs(fifths) <= kMostAccidentals + 1 && is_on_side(fifths, prefer)) cost -= 1000;
        if (cost < best_cost) {
            best_cost = cost;
            best = respelling;
        }
    }
    return best;
}

struct Count {
    int doubles = 0;
    int accidentals = 0;
};

Count count_accidentals(const std::vector<PitchClass>& notes, Interval by) {
    Count out;
    for (const PitchClass note : notes) {
        const int alter = (note + by).alter();
        out.doubles += std::abs(alter) > 1 ? 1 : 0;
        out.accidentals += std::abs(alter);
    }
    return out;
}

// E#, B#, Cb and Fb: fine inside a scale, disliked as its root.
bool is_awkward_root(PitchClass root) {
    const int alter = root.alter();
    if (std::abs(alter) > 1) return true;
    return (alter == 1 && (root.step() == Step::E || root.step() == Step::B)) ||
           (alter == -1 && (root.step() == Step::C || root.step() == Step::F));
}

// The way of the key, unless the scale then needs a double accidental, more than six accidentals or, by
// transposition, an awkward root, and another name does better.
Interval respelling_for_scale(const std::vector<PitchClass>& scale, Interval by, bool has_key,
                              Prefer prefer) {
    const auto cost_of = [&](Interval respelling) {
        const Count count = count_accidentals(scale, by + respelling);
        const PitchClass root = scale.front() + by + respelling;
        int cost = 1000 * count.doubles;
        if (!has_key && count.accidentals > kMostAccidentals) cost += 100 + count.accidentals;
        if (is_awkward_root(root) && !is_awkward_root(scale.front())) cost += 50;
        if (is_on_side(root.fifths(), prefer) && count.doubles == 0) cost -= 500;
        return cost;
    };
    Interval best = kUnison;
    for (const Interval respelling : kRespellings) {
        if (cost_of(respelling) < cost_of(best)) best = respelling;
    }
    return best;
}

}  // namespace

Interval written_interval(const Instrument& instrument, const std::optional<Key>& key,
                          const std::vector<PitchClass>& scale, Prefer prefer) {
    Interval out = -to_sounding(instrument.transposition);
    if (key) out = out + respelling_for_key(key->tonic + out, key->mode, prefer);
    if (!scale.empty()) out = out + respelling_for_scale(scale, out, key.has_value(), prefer);
    return out;
}

Pitch sounding(const WrittenMusic& music, WrittenPitch note) {
    return note.on_paper() + to_sounding(music.transposition);
}

}  // namespace shedbook
