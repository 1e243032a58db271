#include "line_tools.h"

#include <algorithm>
#include <cstdlib>

#include "shedbook/etude/spelling.h"

namespace shedbook {

std::vector<Pitch> in_range(const std::vector<PitchClass>& notes, PitchRange range) {
    std::vector<Pitch> out;
    for (const PitchClass note : notes) {
        int midi = range.low.midi();
        while (midi % 12 != note.semitone()) ++midi;
        for (; midi <= range.high.midi(); midi += 12) out.push_back(pitch_of(note, midi));
    }
    std::ranges::sort(out);
    const auto sound_alike = [](Pitch a, Pitch b) { return a.midi() == b.midi(); };
    out.erase(std::unique(out.begin(), out.end(), sound_alike), out.end());
    return out;
}

Pitch nearest_to(const std::vector<Pitch>& notes, Pitch from, int direction) {
    return *std::ranges::min_element(notes, {}, [&](Pitch note) {
        const int by = note.midi() - from.midi();
        return 2 * std::abs(by) + (by * direction < 0 ? 1 : 0);
    });
}

std::optional<Pitch> next_of(const std::vector<Pitch>& notes, Pitch from, int direction) {
    std::optional<Pitch> out;
    for (const Pitch note : notes) {
        if ((note.midi() - from.midi()) * direction <= 0) continue;
        if (!out || (out->midi() - note.midi()) * direction > 0) out = note;
    }
    return out;
}

Pitch middle_of(PitchRange range) {
    const int midi = (range.low.midi() + range.high.midi()) / 2;
    return Pitch{simplest_name(midi % 12), midi / 12 - 1};
}

std::vector<PitchClass> plain_tones(const ScaleSpan& span) {
    constexpr std::size_t kPlain = 4;
    std::vector<PitchClass> out = span.chord;
    if (out.size() > kPlain) out.resize(kPlain);
    return out;
}

void add_long_note(ConcertLine& line, const EtudeGround& ground, Pitch pitch, Position at, Duration length) {
    const Position end = at + length;
    while (at < end) {
        const GroundBar& bar = bar_at(ground, at);
        const Position stop = std::min(end, bar.at + bar.length);
        add_note(line, pitch, at, stop - at);
        at = stop;
    }
}

const GroundBar& bar_at(const EtudeGround& ground, Position at) {
    const auto after = std::ranges::upper_bound(ground.bars, at, {}, &GroundBar::at);
    return after == ground.bars.begin() ? ground.bars.front() : *(after - 1);
}

}  // namespace shedbook
