// Chords that move over one bass.
#pragma once

#include <vector>

#include "key_finder.h"

namespace shedbook {

// Three and more chords over one bass, two of them foreign to it: no key of their own. They stand in the key
// of the bass, or in the key that follows if the bass is its fifth and comes home (common practice, no
// source; textbooks call either a pedal point).
void rest_on_pedals(const std::vector<ChordView>& chords, KeyReading& keys);

}  // namespace shedbook
