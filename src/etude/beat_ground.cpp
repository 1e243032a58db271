#include "beat_ground.h"

#include <algorithm>
#include <array>
#include <map>

namespace shedbook {
namespace {

SoundSet set_of(const std::vector<PitchClass>& notes) {
    SoundSet out = 0;
    for (const PitchClass note : notes) out |= 1U << static_cast<unsigned>(note.semitone());
    return out;
}

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

void describe(BeatChord& chord, const ChordSymbol& symbol) {
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
    chord.tones = at_root(tones, root);
    chord.guide = at_root(guide, root);
    for (const SoundSet scale : fitting_scales(third, fifth, seventh))
        chord.fitting.push_back(at_root(scale | over_root | tones, root));
}

void add_beats(BeatGround& out, const GroundBar& bar, bool triplets) {
    Duration length = bar.meter.beat_length();
    if (bar.meter.unit == 2) length = kQuarter;
    Beat::Division division =
        triplets || bar.meter.is_compound() ? Beat::Division::Three : Beat::Division::Two;
    if (bar.meter.unit >= 8 && !bar.meter.is_compound()) division = Beat::Division::None;
    if (!(bar.length / length).is_whole()) {
        length = bar.meter.unit_length();
        division = length < kQuarter ? Beat::Division::None : Beat::Division::Two;
    }
    // Beats that divide the bar; one as long as the bar where they would be lost in it.
    constexpr std::int64_t kFinest = 8;
    const std::int64_t parts = (bar.length / length).den();
    length = parts <= kFinest ? length * Rational{1, parts} : bar.length;
    if (length < kEighth) division = Beat::Division::None;
    const int index = static_cast<int>(out.bar_start.size());
    out.bar_start.push_back(out.ticks());
    const auto count = (bar.length / length).floor();
    for (std::int64_t i = 0; i < count; ++i)
        out.beats.push_back({bar.at + length * Rational{i}, length, index, static_cast<int>(i), division});
    if (count != 4 || division != Beat::Division::Two) out.is_common_time = false;
}

// The tick at or after a place.
int tick_at(const BeatGround& ground, Position at) {
    const auto after = std::ranges::upper_bound(ground.beats, at, {}, &Beat::at);
    if (after == ground.beats.begin()) return 0;
    const Beat& beat = *(after - 1);
    const Rational part = (at - beat.at) / beat.length;
    const auto index = static_cast<int>(after - ground.beats.begin()) - 1;
    if (part >= Rational{1}) return (index + 1) * kBeatTicks;
    const Rational ticks = part * Rational{kBeatTicks};
    return index * kBeatTicks + static_cast<int>(ticks.is_whole() ? ticks.num() : ticks.floor() + 1);
}

void add_chords(BeatGround& out, const EtudeGround& ground) {
    const Position begin = out.beats.front().at;
    const Position end = out.beats.back().at + out.beats.back().length;
    std::map<std::pair<SoundSet, SoundSet>, int> meanings;
    for (const ScaleSpan& span : ground.spans) {
        if (span.at + span.length <= begin || span.at >= end) continue;
        BeatChord chord;
        chord.start = tick_at(out, std::max(span.at, begin));
        chord.end = tick_at(out, std::min(span.at + span.length, end));
        chord.sounds = !span.notes.empty() && span.symbol.has_value();
        chord.span = &span;
        if (chord.sounds) {
            describe(chord, *span.symbol);
            chord.scale = set_of(span.notes) | chord.tones;
            chord.avoid = set_of(span.avoid);
            const std::pair key{chord.tones << 12U | chord.guide,
                                pitch_set(*span.symbol) | at_root(1, span.symbol->root.semitone()) << 12U};
            chord.meaning = meanings.try_emplace(key, static_cast<int>(meanings.size()) + 1).first->second;
        }
        out.chords.push_back(std::move(chord));
    }
}

}  // namespace

Position BeatGround::position(int tick) const {
    const auto index = static_cast<std::size_t>(tick / kBeatTicks);
    if (index >= beats.size()) return beats.back().at + beats.back().length;
    return beats[index].at + beats[index].length * Rational{tick % kBeatTicks, kBeatTicks};
}

BeatGround beat_ground(const EtudeGround& ground, std::size_t first, std::size_t last, bool triplets) {
    BeatGround out;
    for (std::size_t bar = first; bar < last; ++bar) add_beats(out, ground.bars[bar], triplets);
    out.bar_start.push_back(out.ticks());
    add_chords(out, ground);
    return out;
}

}  // namespace shedbook
