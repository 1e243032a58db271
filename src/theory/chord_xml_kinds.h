// The kind values of the MusicXML standard as degrees over the root, and those outside it that programs
// write.
#pragma once

#include <optional>
#include <string_view>

#include "chord_degrees.h"

namespace shedbook {

struct XmlKind {
    std::string_view value;
    DegreeSet degrees;  // an 11th or 13th holds all lower degrees, as the standard has it
    bool standard = true;
};

// Null for kinds that name no set of tones: other, none, pedal, the function names (Neapolitan ...), anything
// else.
[[nodiscard]] const XmlKind* find_xml_kind(std::string_view value);

}  // namespace shedbook
