// What there is to say of a unit beside its name.
#pragma once

#include <string>
#include <vector>

#include "shedbook/harmony/units.h"

namespace shedbook {

// Of a cadence whose chords are others than its name says: "ii-bII-I", "iv7-bVII7 in C major". Empty of all
// others.
[[nodiscard]] std::string what_it_is_here(UnitKind kind, const Key& key,
                                          const std::vector<const Reading*>& chords);

}  // namespace shedbook
