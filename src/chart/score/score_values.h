// Numbers, keys, meters and intervals as MusicXML writes them.
#pragma once

#include <optional>
#include <pugixml.hpp>
#include <string_view>

#include "shedbook/theory/interval.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/meter.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

// A step element and its alteration: "B" and -1.
[[nodiscard]] std::optional<PitchClass> note_name(std::string_view step, std::string_view alter);

// What a pitch element says, as it is written; nothing for a pitch that no part can have.
[[nodiscard]] std::optional<Pitch> pitch_of(pugi::xml_node pitch);

// The same sound with two accidentals at most: what a transposition has made of a note.
[[nodiscard]] Pitch readable(Pitch pitch);
[[nodiscard]] PitchClass readable(PitchClass name);

// Sharps (or flats, below zero) of a key element; nothing for keys that are written otherwise.
[[nodiscard]] std::optional<int> fifths_of(pugi::xml_node key);
// The key of such an element; nothing for keys that are written otherwise.
[[nodiscard]] std::optional<Key> key_of(pugi::xml_node key);
// The meter of a time element; nothing for none (senza misura) and for what is no meter.
[[nodiscard]] std::optional<Meter> meter_of(pugi::xml_node time);
// What to add to written pitch to get the sounding one, octaves included.
[[nodiscard]] Interval interval_of(pugi::xml_node transpose);

}  // namespace shedbook
