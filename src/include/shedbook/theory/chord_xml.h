// Chord symbols as MusicXML says them: a kind from the standard's list, a text, and degrees beyond the kind.
// Plain values; whoever reads or writes files puts them into elements.
//
//     xml_chord(*parse_chord_symbol("C7(b9)"));                // dominant "7", add 9 -1, in parentheses
//     read_xml_chord({kC, {}, "suspended-fourth", "7sus", {{7, 0, XmlDegreeType::Add}}}).symbol;   // C7sus4
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

enum class XmlDegreeType { Add, Alter, Subtract };
template <>
inline constexpr Worded<XmlDegreeType> kWords<XmlDegreeType>[] = {
    {XmlDegreeType::Add, "add"}, {XmlDegreeType::Alter, "alter"}, {XmlDegreeType::Subtract, "subtract"}};

struct XmlDegree {
    int value = 0;
    int alter = 0;  // of an added degree against the dominant scale (7 is the minor seventh), else against
                    // the kind's own
    XmlDegreeType type = XmlDegreeType::Add;
    std::string_view text = {};  // attribute of degree-type: what stands before the degree
    friend bool operator==(const XmlDegree&, const XmlDegree&) = default;
};

// What a harmony element says beside root and bass.
struct XmlChord {
    std::string kind;
    std::string text;
    std::vector<XmlDegree> degrees;
    bool parentheses = false;  // parentheses-degrees
    friend bool operator==(const XmlChord&, const XmlChord&) = default;
};

// Kind and degrees mean the chord by themselves; the text shows the plain part only, so that nothing is
// printed twice. What no kind and no degrees can say (7alt) is kind "other" with the whole text.
[[nodiscard]] XmlChord xml_chord(const ChordSymbol& symbol);

// What a file says; the text of a degree is not needed.
struct XmlHarmony {
    PitchClass root;
    std::optional<PitchClass> bass = {};
    std::string_view kind = {};
    std::string_view text = {};
    std::vector<XmlDegree> degrees = {};
};

enum class XmlChordNote {
    Plain,            // kind and degrees, and the text agrees or says nothing
    TextDisagrees,    // kind and degrees were taken; `by_text` is what the text says
    KindNotStandard,  // a kind that the standard does not list but programs write
    ReadFromText,     // kind other, unknown or empty: the text was taken
    NoChord,          // kind none
    Unreadable,       // neither kind nor text says what sounds
};

struct XmlReading {
    std::optional<ChordSymbol> symbol = {};
    XmlChordNote note = XmlChordNote::Plain;
    std::optional<ChordSymbol> by_text = {};
};

// Rule: what a kind of the standard and the degrees mean is the chord; the text is ink. Only where there is
// no such kind is the chord read from the text, as if it were typed behind the root.
[[nodiscard]] XmlReading read_xml_chord(const XmlHarmony& harmony);

}  // namespace shedbook
