// What states a chord in a line, beyond the one tone that tells it: common practice, no source.
//
//     ChordStatement says = statement_of(facts, symbol);  // Bm7b5
//     says.each;                                      // {F}, {B, D}
#pragma once

#include <cstddef>
#include <vector>

#include "chord_facts.h"

namespace shedbook {

struct ChordStatement {
    SoundSet tones = 0;          // two of root, third, fifth and seventh,
    std::vector<SoundSet> each;  // one of every set of these,
    SoundSet denies = 0;         // and on no beat one of these: what the symbol says otherwise
};
[[nodiscard]] ChordStatement statement_of(const ChordFacts& facts, const ChordSymbol& symbol);

// What may be held over a beat, or stand before a rest: its tones, the ninth, a sixth over major, a fourth
// over minor, the thirteenth of a plain dominant and what is altered in an altered one, as far as `scale` has
// it.
[[nodiscard]] SoundSet held_over(const ChordFacts& facts, const ChordSymbol& symbol, SoundSet scale);

// How many notes of `count`, which sound `heard` together, would have to be others to state it.
[[nodiscard]] int unstated(const ChordStatement& says, SoundSet heard, std::size_t count);

}  // namespace shedbook
