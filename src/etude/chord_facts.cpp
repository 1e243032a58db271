#include "chord_facts.h"

namespace shedbook {
namespace {

constexpr SoundSet at_root(SoundSet over_root, int root) {
    const auto by = static_cast<unsigned>(root);
    return (over_root << by | over_root >> (12 - by)) & 0xFFFU;
}

constexpr SoundSet bits(std::initializer_list<int> notes) {
    SoundSet out = 0;
    for (const int note : notes) out |= 1U << static_cast<unsigned>(note);
    return out;
}

// Scales over C as bits.
constexpr SoundSet kIonian = bits({0, 2, 4, 5, 7, 9, 11});
constexpr SoundSet kLydian = bits({0, 2, 4, 6, 7, 9, 11});
constexpr SoundSet kMixolydian = bits({0, 2, 4, 5, 7, 9, 10});
constexpr SoundSet kDorian = bits({0, 2, 3, 5, 7, 9, 10});
constexpr SoundSet kAeolian = bits({0, 2, 3, 5, 7, 8, 10});
constexpr SoundSet kPhrygian = bits({0, 1, 3, 5, 7, 8, 10});
constexpr SoundSet kLocrian = bits({0, 1, 3, 5, 6, 8, 10});
constexpr SoundSet kLocrianNatural2 = bits({0, 2, 3, 5, 6, 8, 10});
constexpr SoundSet kLocrianNatural6 = bits({0, 1, 3, 5, 6, 9, 10});
constexpr SoundSet kMelodicMinor = bits({0, 2, 3, 5, 7, 9, 11});
constexpr SoundSet kHarmonicMinor = bits({0, 2, 3, 5, 7, 8, 11});
constexpr SoundSet kLydianDominant = bits({0, 2, 4, 6, 7, 9, 10});
constexpr SoundSet kAltered = bits({0, 1, 3, 4, 6, 8, 10});
constexpr SoundSet kPhrygianDominant = bits({0, 1, 4, 5, 7, 8, 10});
constexpr SoundSet kMixolydianFlat6 = bits({0, 2, 4, 5, 7, 8, 10});
constexpr SoundSet kLydianAugmented = bits({0, 2, 4, 6, 8, 9, 11});
constexpr SoundSet kHarmonicMinorOn7 = bits({0, 1, 3, 4, 6, 8, 9});
constexpr SoundSet kWholeTone = bits({0, 2, 4, 6, 8, 10});
constexpr SoundSet kHalfWhole = bits({0, 1, 3, 4, 6, 7, 9, 10});
constexpr SoundSet kWholeHalf = bits({0, 2, 3, 5, 6, 8, 9, 11});
constexpr SoundSet kBlues = bits({0, 3, 5, 6, 7, 10});
constexpr SoundSet kBluesDominant = bits({0, 3, 4, 5, 6, 7, 10});

int first_of(std::initializer_list<int> candidates, SoundSet set) {
    for (const int candidate : candidates) {
        if (holds(set, candidate)) return candidate;
    }
    return -1;
}

// Scales that players use on such a chord (common practice; the list is the one by which the Weimar Jazz
// Database's solos were measured, see melody_figures.toml).
std::vector<SoundSet> fitting_scales(int third, int fifth, int seventh) {
    if (third == 4 && seventh == 10)
        return {kMixolydian, kLydianDominant,  kPhrygianDominant, kAltered,
                kHalfWhole,  kMixolydianFlat6, kBluesDominant,    kWholeTone};
    if (third == 4 && fifth == 8) return {kLydianAugmented, kWholeTone, kIonian};
    if (third == 4 && seventh == 11) return {kIonian, kLydian};
    if (third == 4) return {kIonian, kLydian, kMixolydian, kBluesDominant};
    if (third == 3 && fifth == 6 && seventh == 10) return {kLocrian, kLocrianNatural2, kLocrianNatural6};
    if (third == 3 && fifth == 6) return {kWholeHalf, kHarmonicMinorOn7};
    if (third == 3 && seventh == 10) return {kDorian, kAeolian, kPhrygian, kBlues};
    if (third == 3) return {kMelodicMinor, kDorian, kHarmonicMinor, kAeolian, kBlues};
    if (third == 5 || third == 2) return {kMixolydian, kDorian, kPhrygian, kIonian};
    return {kIonian, kMixolydian, kDorian, kAeolian};
}

// Over the root: what tells the chord apart.
SoundSet telling(SoundSet over_root, int fifth) {
    SoundSet out = over_root & bits({3, 4, 10, 11});
    if ((out & bits({3, 4})) == 0) out |= holds(over_root, 5) ? bits({5}) : over_root & bits({2});
    if ((out & bits({10, 11})) == 0) out |= over_root & bits({9});
    if (fifth == 6 || fifth == 8) out |= 1U << static_cast<unsigned>(fifth);
    return out;
}

SoundSet half_step_above(SoundSet tones) {
    return (tones << 1U | tones >> 11U) & kAllSounds;
}

}  // namespace

SoundSet set_of(const std::vector<PitchClass>& notes) {
    SoundSet out = 0;
    for (const PitchClass note : notes) out |= sound(note.semitone());
    return out;
}

ChordFacts facts_of(const ChordSymbol& symbol) {
    const SoundSet over_root = pitch_set(symbol);
    const int root = symbol.root.semitone();
    const int third = first_of({4, 3, 5, 2}, over_root);
    const int fifth = first_of({7, 6, 8}, over_root);
    const int seventh = first_of({10, 11, 9}, over_root);
    SoundSet tones = 1;
    SoundSet guide = 0;
    for (const int tone : {third, fifth, seventh}) {
        if (tone >= 0) tones |= 1U << static_cast<unsigned>(tone);
    }
    if (third == 3 || third == 4) guide |= 1U << static_cast<unsigned>(third);
    if (seventh >= 0) guide |= 1U << static_cast<unsigned>(seventh);
    const SoundSet all = over_root | tones;
    const bool is_dominant = holds(over_root, 4) && holds(over_root, 10);
    const bool is_sus = holds(over_root, 5) && (over_root & bits({3, 4})) == 0;
    ChordFacts out;
    out.tones = at_root(tones, root);
    out.all = at_root(all, root);
    out.guide = at_root(guide, root);
    out.tell = at_root(telling(over_root, fifth), root);
    const SoundSet rests = tones & ~bits({9, 10, 11}) & ~(is_sus ? bits({2, 5}) : 0U);
    out.ends = at_root(rests, root);
    for (const SoundSet scale : fitting_scales(third, fifth, seventh)) {
        out.fitting.push_back(at_root(scale | all, root));
        out.inside |= out.fitting.back();
    }
    if (!is_dominant) out.rubs = at_root(half_step_above(tones) & ~all, root);
    if (is_sus) out.sus_third = at_root(bits({4}), root);
    return out;
}

namespace {

bool is_dominant_on(const ChordFacts& facts, PitchClass root) {
    const SoundSet third_and_seventh = at_root(bits({4, 10}), root.semitone());
    return (facts.tones & third_and_seventh) == third_and_seventh;
}

}  // namespace

SoundSet altered_tones(const ChordFacts& facts, SoundSet scale, PitchClass root) {
    const SoundSet flat_fifth = at_root(bits({3, 6}), root.semitone());
    if ((facts.tones & flat_fifth) == flat_fifth) return at_root(bits({6}), root.semitone());
    const bool is_dominant = is_dominant_on(facts, root);
    const SoundSet altered = at_root(is_dominant ? bits({1, 3, 6, 8}) : bits({6}), root.semitone());
    return (is_dominant ? scale : facts.all) & altered & ~facts.tones;
}

SoundSet leading_third(const ChordFacts& facts, SoundSet scale_before, PitchClass root) {
    return is_dominant_on(facts, root) ? at_root(bits({4}), root.semitone()) & ~scale_before : 0;
}

}  // namespace shedbook
