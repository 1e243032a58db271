#include "shedbook/etude/spelling.h"

#include <cstdlib>

namespace shedbook {

std::optional<PitchClass> scale_name(const ScaleSpan& span, int midi) {
    for (const std::vector<PitchClass>* notes : {&span.notes, &span.chord}) {
        for (const PitchClass note : *notes) {
            if (note.semitone() == midi % 12) return note;
        }
    }
    return std::nullopt;
}

Pitch pitch_of(PitchClass name, int midi) {
    Pitch out{name, midi / 12 - 1};
    while (out.midi() < midi) out = out + kOctave;
    while (out.midi() > midi) out = out - kOctave;
    return out;
}

Pitch leading_to(Pitch target, int midi) {
    const int by = midi - target.midi();
    const Interval step{by > 0 ? 1 : -1, by};
    const PitchClass name = (target + step).name();
    // A double accidental here may be a plain one in the player's key; notation simplifies what stays double.
    if (by != 0 && std::abs(by) <= 2 && std::abs(name.alter()) <= 2) return target + step;
    return pitch_of(simplest_name(midi % 12, target.name()), midi);
}

Pitch apart_from(PitchClass before, Pitch note) {
    const int by = note.name().alter() - before.alter();
    if (note.name().step() != before.step() || std::abs(by) < 2) return note;
    const Pitch other = note + Interval{by > 0 ? 1 : -1, 0};
    return std::abs(other.name().alter()) <= 1 ? other : note;
}

}  // namespace shedbook
