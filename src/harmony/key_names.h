// Names for the keys that were found as sounds: spelled as the chart spells the chords on their tonics.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "chord_view.h"
#include "key_finder.h"
#include "shedbook/theory/key.h"

namespace shedbook {

class KeyNames {
  public:
    KeyNames(const ChordViews& views, const KeyReading& keys, const std::optional<Key>& stated);
    [[nodiscard]] PitchClass tonic(Tonality key) const;
    // The name that the chords around it suggest, even if no key signature has it: what roots are measured
    // from.
    [[nodiscard]] PitchClass as_written(Tonality key) const;

  private:
    std::map<int, PitchClass> written_;  // by ground * 12 + tonic
};

}  // namespace shedbook
