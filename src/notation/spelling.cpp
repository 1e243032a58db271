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

// The way of the key, unless the scale then needs a double accidental, more than six accidentals or, by
// transposition, an awkward root, and another name does better.
Interval respelling_for_scale(const std::vector<PitchClass>& scale, Interval by, bool has_key,
                              Prefer prefer) {
    const auto cost_of = [&](Interval respelling) {
        const Count count = count_accidentals(scale, by + respelling);
        const PitchClass root = scale.front() + by + respelling;
        int cost = 1000 * count.doubles;
        if (!has_key && count.accidentals > kMostAccidentals) cost += 100 + count.accidentals;
        if (is_awkward(root) && !is_awkward(scale.front())) cost += 50;
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

namespace {

// Seven notes on seven letters.
bool has_own_letters(const std::vector<PitchClass>& scale) {
    unsigned letters = 0;
    for (const PitchClass note : scale) letters |= 1U << static_cast<unsigned>(note.step());
    return scale.size() == 7 && letters == 0x7F;
}

// The name that a root takes in the part, from the one that it is transposed to.
Interval respelling_of(PitchClass name, PitchClass to) {
    const auto* const found =
        std::ranges::find_if(kRespellings, [&](Interval respelling) { return name + respelling == to; });
    return found == kRespellings.end() ? kUnison : *found;
}

}  // namespace

namespace {

// The note of the signature that sounds like this one.
std::optional<PitchClass> name_in_signature(const Key& key, PitchClass note) {
    for (const Interval respelling : kRespellings) {
        if (is_in_signature(key, note + respelling)) return note + respelling;
    }
    return std::nullopt;
}

}  // namespace

PlacedScale scale_in_part(Position at, const std::vector<PitchClass>& scale,
                          const std::optional<ChordSymbol>& symbol, Interval by,
                          const std::optional<Key>& written_key, NamesOf names) {
    PlacedScale out{at, scale, {}};
    std::vector<PitchClass> chord;
    std::vector<PitchClass> plain_tones;  // root, third, fifth, seventh: they keep their letters too
    if (symbol) {
        constexpr std::size_t kPlain = 4;
        by = by + respelling_of(symbol->root + by, written_symbol(*symbol, by, written_key).root);
        chord = chord_notes(*symbol);
        plain_tones.assign(chord.begin(),
                           chord.begin() + static_cast<std::ptrdiff_t>(std::min(kPlain, chord.size())));
    }
    const bool keeps_letters = has_own_letters(scale);
    const bool is_diminished = symbol && family(*symbol) == ChordFamily::Diminished;
    const auto named = [&](PitchClass concert) {
        const PitchClass name = concert + by;
        if (!written_key) return name;
        const bool is_tone = std::ranges::find(plain_tones, concert) != plain_tones.end();
        const bool is_root = symbol && concert == symbol->root;
        const bool may_change = !is_root && (!is_tone || is_diminished || is_awkward(name));
        if (names == NamesOf::Key && may_change) {
            if (const auto of_key = name_in_signature(*written_key, name)) return *of_key;
            return plain_name(name);
        }
        const bool is_degree = keeps_letters || is_tone;
        return is_degree || is_in_signature(*written_key, name) ? without_double_accidental(name)
                                                                : plain_name(name);
    };
    for (const PitchClass note : chord) {
        const auto same = [&](PitchClass other) { return other.semitone() == note.semitone(); };
        if (std::ranges::none_of(scale, same)) out.concert.push_back(note);
    }
    for (const PitchClass note : out.concert) out.written.push_back(named(note));
    return out;
}

Pitch sounding(const WrittenMusic& music, WrittenPitch note) {
    return note.on_paper() + to_sounding(music.transposition);
}

}  // namespace shedbook
