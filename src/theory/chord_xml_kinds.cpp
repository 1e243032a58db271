#include "chord_xml_kinds.h"

#include <algorithm>

namespace shedbook {
namespace {

// MusicXML 4.0, kind-value. The last three are none of the standard's; they occur in some dozen of 500 lead
// sheets of a public collection (OpenEWLD), and their names leave no doubt.
constexpr XmlKind kXmlKinds[] = {
    {"major", degrees_in("1 3 5")},
    {"minor", degrees_in("1 b3 5")},
    {"augmented", degrees_in("1 3 #5")},
    {"diminished", degrees_in("1 b3 b5")},
    {"dominant", degrees_in("1 3 5 b7")},
    {"major-seventh", degrees_in("1 3 5 7")},
    {"minor-seventh", degrees_in("1 b3 5 b7")},
    {"diminished-seventh", degrees_in("1 b3 b5 bb7")},
    {"augmented-seventh", degrees_in("1 3 #5 b7")},
    {"half-diminished", degrees_in("1 b3 b5 b7")},
    {"major-minor", degrees_in("1 b3 5 7")},
    {"major-sixth", degrees_in("1 3 5 6")},
    {"minor-sixth", degrees_in("1 b3 5 6")},
    {"dominant-ninth", degrees_in("1 3 5 b7 9")},
    {"major-ninth", degrees_in("1 3 5 7 9")},
    {"minor-ninth", degrees_in("1 b3 5 b7 9")},
    {"dominant-11th", degrees_in("1 3 5 b7 9 11")},
    {"major-11th", degrees_in("1 3 5 7 9 11")},
    {"minor-11th", degrees_in("1 b3 5 b7 9 11")},
    {"dominant-13th", degrees_in("1 3 5 b7 9 11 13")},
    {"major-13th", degrees_in("1 3 5 7 9 11 13")},
    {"minor-13th", degrees_in("1 b3 5 b7 9 11 13")},
    {"suspended-second", degrees_in("1 2 5")},
    {"suspended-fourth", degrees_in("1 4 5")},
    {"power", degrees_in("1 5")},
    {"minor-major", degrees_in("1 b3 5 7"), false},
    {"augmented-ninth", degrees_in("1 3 #5 b7 9"), false},
    {"maj69", degrees_in("1 3 5 6 9"), false},
};

}  // namespace

const XmlKind* find_xml_kind(std::string_view value) {
    const auto* const found = std::ranges::find(kXmlKinds, value, &XmlKind::value);
    return found == std::end(kXmlKinds) ? nullptr : found;
}

}  // namespace shedbook
