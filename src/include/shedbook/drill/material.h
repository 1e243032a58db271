// Material: the notes that a drill takes over a chord when it does not take the chord's whole scale: a
// pentatonic, a pair of triads, a scale with an added note. Rules are rows of a table.
//
//     ladder_of("pentatonic", ladder)->notes();                // over Dm7, D Dorian: D F G A C
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/drill/ladder.h"

namespace shedbook {

struct MaterialRow {
    std::string_view material;
    std::string_view over;   // chord tones that must be there, over the root: "b3 b7"
    std::string_view notes;  // the notes, from where a drill begins; see material.cpp
    std::string_view source;
};
[[nodiscard]] std::span<const MaterialRow> material_rows();
// Names for `material`, "scale" among them.
[[nodiscard]] std::vector<std::string> material_names();

// The notes over this chord and scale; nothing if no row suits them. "scale" gives the ladder itself.
[[nodiscard]] std::optional<ScaleLadder> ladder_of(std::string_view material, const ScaleLadder& ladder);

}  // namespace shedbook
