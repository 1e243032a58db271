// The form of a tune as a picture: a line a phrase, chords above, their meaning below, keys
// and practice units as brackets, hard bars shaded.
// Plain values; a writer draws them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/grade.h"
#include "shedbook/base/rational.h"

namespace shedbook {

// Places are in bars from the beginning of the phrase: 2 1/2 is the middle of its third bar.
struct MapChord {
    Rational at;
    std::string symbol;
    std::string numeral;
    std::string scale;
};

struct MapBar {
    std::string number;  // "12"
    Grade grade = Grade::Easy;
    bool repeat_start = false;
    bool repeat_end = false;
    bool double_bar = false;
    std::string ending;  // "1." where a bracket opens
    std::string signs;   // "Segno", "To Coda", "D.C. al Fine"
};

// A stretch under one key, or a place of a unit.
struct MapRegion {
    Rational from;
    Rational to;
    std::string label;
    bool goes_on = false;  // into the next phrase
    bool comes_from_before = false;
};

// From a dominant to where it leads. No target in this phrase: the line leaves it at the right.
struct MapLead {
    Rational from;
    std::optional<Rational> to;
    std::string goal;  // its symbol
};

struct MapPhrase {
    std::string label;  // section, at its first phrase
    std::vector<MapBar> bars;
    std::vector<MapChord> chords;
    std::vector<MapRegion> regions;
    std::vector<MapRegion> units;
    std::vector<MapLead> leads;
};

struct FormMap {
    std::string title;
    std::string about;  // "home key Bb major, 4/4"
    std::vector<MapPhrase> phrases;
};

}  // namespace shedbook
