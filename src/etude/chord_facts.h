// What a chord asks of a line over it, as sets of the twelve sounds.
//
//     ChordFacts facts = facts_of(symbol);                     // G7sus4
//     holds(facts.tell, 60);                                   // true: C, its fourth
#pragma once

#include <vector>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

// Sets of the twelve sounds as bits, bit 0 is C.
using SoundSet = unsigned;
inline constexpr SoundSet kAllSounds = 0xFFFU;
[[nodiscard]] constexpr bool holds(SoundSet set, int pitch) {
    return (set >> static_cast<unsigned>(pitch % 12) & 1U) != 0;
}
[[nodiscard]] constexpr SoundSet sound(int pitch) {
    return 1U << static_cast<unsigned>(pitch % 12);
}
[[nodiscard]] SoundSet set_of(const std::vector<PitchClass>& notes);

// Common practice, no source: what a teacher asks of a line that is to show the changes.
struct ChordFacts {
    SoundSet tones = 0;   // root, third, fifth, seventh (or sixth)
    SoundSet all = 0;     // these, and every other tone that the symbol names
    SoundSet guide = 0;   // third and seventh
    SoundSet tell = 0;    // what tells it from other chords: the third or what stands for it, the seventh (or
                          // sixth), a fifth that is not the plain one; empty for a bare fifth
    SoundSet ends = 0;    // where a tune comes to rest: root, third, fifth
    SoundSet inside = 0;  // in one of the scales that players use on such a chord
    SoundSet rubs = 0;    // a half step above a tone, of chords that are no dominants: only to pass over
    SoundSet sus_third = 0;         // the major third of a sus chord: it only passes
    std::vector<SoundSet> fitting;  // those scales, the chord's tones included
    friend bool operator==(const ChordFacts&, const ChordFacts&) = default;
};
[[nodiscard]] ChordFacts facts_of(const ChordSymbol& symbol);

// What a line that is to show the scale must not leave out: of a dominant the altered tones of its scale (b9,
// #9, #11, b13), of a chord with a minor third and a flat fifth that fifth, of another the #11 that its
// symbol names.
[[nodiscard]] SoundSet altered_tones(const ChordFacts& facts, SoundSet scale, PitchClass root);

// The third of a dominant that the chord before has not: without it nobody hears where the dominant leads.
[[nodiscard]] SoundSet leading_third(const ChordFacts& facts, SoundSet scale_before, PitchClass root);

// A note that may be held, or struck for a beat on a beat.
[[nodiscard]] inline SoundSet restful(const ChordFacts& facts) {
    return facts.inside & ~facts.rubs & ~facts.sus_third;
}

}  // namespace shedbook
