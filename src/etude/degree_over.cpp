#include "degree_over.h"

#include <optional>

#include "shedbook/base/rational.h"
#include "shedbook/drill/degree.h"

namespace shedbook {
namespace {

// Where neither chord nor scale has a degree: as over a dominant.
constexpr SoundsAbove kPlain{0b0110'1011'0101};

}  // namespace

Interval degree_over(const ScaleSpan& span, const ChordFacts& facts, int steps) {
    const PitchClass root = root_of(span);
    const int letter = modulo(steps, 7);
    const int octaves = (steps - letter) / 7;
    const auto named = [&](const std::vector<PitchClass>& notes) -> std::optional<Interval> {
        for (const PitchClass note : notes) {
            if ((note - root).steps() == letter) return (note - root) + octaves * kOctave;
        }
        return std::nullopt;
    };
    const auto above = [&](SoundSet set) {
        SoundsAbove out;
        for (int up = 0; up < 12; ++up) out[static_cast<std::size_t>(up)] = holds(set, root.semitone() + up);
        return out;
    };
    // A chord may be read under simpler names than its degrees have: the third of a diminished seventh chord
    // on G flat as A, which is then no second.
    const bool is_of_triad = letter % 2 == 0;
    if (!is_of_triad) {
        for (const PitchClass note : span.notes) {
            const bool is_tone = holds(set_of(span.chord), note.semitone());
            if ((note - root).steps() == letter && !is_tone) return (note - root) + octaves * kOctave;
        }
    }
    if (const auto tone = named(span.chord)) return *tone;
    if (is_of_triad) {
        const auto tone = degrees_above(above(set_of(span.chord)), {})[static_cast<std::size_t>(letter)];
        if (tone) return Interval{letter, *tone} + octaves * kOctave;
    }
    if (const auto note = named(span.notes)) return *note;
    for (const SoundsAbove notes : {above(set_of(span.notes) | facts.all), above(facts.inside), kPlain}) {
        const auto sounding = degrees_above(notes, {})[static_cast<std::size_t>(letter)];
        if (sounding) return Interval{letter, *sounding} + octaves * kOctave;
    }
    return octaves * kOctave;
}

}  // namespace shedbook
