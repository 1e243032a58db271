// What there is to say of a unit beside its name.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/harmony/units.h"

namespace shedbook {

// Of a cadence whose chords are others than its name says: "ii-bII-I", "iv7-bVII7 in C major". Empty of all
// others.
[[nodiscard]] std::string what_it_is_here(UnitKind kind, const Key& key,
                                          const std::vector<const Reading*>& chords);

// A ii and its V, in a key whose tonic does not follow, that are both said from another one: "ii-V of V", and
// that key. Nothing of all others.
struct NameOfPlace {
    std::string name;
    Key in;
};
[[nodiscard]] std::optional<NameOfPlace> name_from_other_key(const std::vector<const Reading*>& chords);
// All the chords of a bar by what they do: "iii-biii dim-ii-V-I".
[[nodiscard]] std::string chain_of(const std::vector<const Reading*>& chords);

}  // namespace shedbook
