#include "beat_ground.h"

#include <algorithm>
#include <map>

#include "line_slots.h"

namespace shedbook {
namespace {

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
    if (length <= kEighth) division = Beat::Division::None;
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
            static_cast<ChordFacts&>(chord) = facts_of(*span.symbol);
            chord.scale = set_of(span.notes) | chord.tones;
            chord.avoid = set_of(span.avoid);
            const std::pair key{chord.tones << 12U | chord.guide,
                                pitch_set(*span.symbol) | sound(span.symbol->root.semitone()) << 12U};
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

std::vector<ChordDuty> chord_duties(const BeatGround& ground) {
    std::vector<ChordDuty> all;
    const BeatChord* before = nullptr;
    for (const BeatChord& chord : ground.chords) {
        const bool goes_on = before != nullptr && chord.sounds && before->sounds &&
                             before->meaning == chord.meaning && before->end == chord.start;
        if (goes_on) {
            all.back().end = chord.end;
        } else if (chord.sounds) {
            all.push_back({chord.start, chord.end, chord.tell});
        }
        before = &chord;
    }
    std::erase_if(all, [&](const ChordDuty& chord) {
        const auto beat = static_cast<std::size_t>(chord.start / kBeatTicks);
        const Duration length = ground.position(chord.end) - ground.position(chord.start);
        return chord.tell == 0 || length < least_told(ground.beats[beat].length);
    });
    return all;
}

}  // namespace shedbook
