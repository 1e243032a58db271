// A tune cut into practice units: the cadences, turnarounds, chains and stretches that a player works on one
// by one, each with the places where it stands, and how hard each bar is. docs/units.md has the rules.
//
//     TuneUnits units = units_of(chart, analysis);
//     const UnitPlace& place = units.units[0].places[0];
//     unit_name(units.units[0].kind, place.key);               // "ii-V-I in F major"
//     place.first_bar;                                         // 2
//     units.bars.front().bar;                                  // the hardest
#pragma once

#include <string>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/chart/chart.h"
#include "shedbook/harmony/analysis.h"
#include "shedbook/theory/key.h"

namespace shedbook {

enum class UnitKind {
    BluesFrame,
    KeyCycle,
    Pedal,
    ModalStretch,
    Turnaround,
    MajorTwoFiveOne,
    MinorTwoFiveOne,
    Backdoor,
    DominantChain,
    ChromaticDominants,
    TwoFive,
    DiminishedPassing,
    LineCliche,
    TriadsOverBass,
    Substitute,
    SecondaryDominant,
    FiveOne,
    Plagal,
    LoneChord,
};
template <>
inline constexpr Worded<UnitKind> kWords<UnitKind>[] = {{UnitKind::BluesFrame, "blues frame"},
                                                        {UnitKind::KeyCycle, "key cycle"},
                                                        {UnitKind::Pedal, "pedal"},
                                                        {UnitKind::ModalStretch, "modal stretch"},
                                                        {UnitKind::Turnaround, "turnaround"},
                                                        {UnitKind::MajorTwoFiveOne, "ii-V-I"},
                                                        {UnitKind::MinorTwoFiveOne, "ii\u00F8-V-i"},
                                                        {UnitKind::Backdoor, "backdoor"},
                                                        {UnitKind::DominantChain, "dominant chain"},
                                                        {UnitKind::ChromaticDominants, "chromatic dominants"},
                                                        {UnitKind::TwoFive, "ii-V"},
                                                        {UnitKind::DiminishedPassing, "diminished passing"},
                                                        {UnitKind::LineCliche, "line cliche"},
                                                        {UnitKind::TriadsOverBass, "triads over bass"},
                                                        {UnitKind::Substitute, "substitute"},
                                                        {UnitKind::SecondaryDominant, "secondary dominant"},
                                                        {UnitKind::FiveOne, "V-I"},
                                                        {UnitKind::Plagal, "plagal"},
                                                        {UnitKind::LoneChord, "lone chord"}};

// What a musician calls it, on every page and in every list: "ii-V"; in a minor key "V-i".
[[nodiscard]] std::string unit_name(UnitKind kind, Mode mode);
// "ii-V in Ab major".
[[nodiscard]] std::string unit_name(UnitKind kind, const Key& key);
// The same of a place, by its own name if it has one.
struct UnitPlace;
[[nodiscard]] std::string unit_name(UnitKind kind, const UnitPlace& place);

// One place where a unit stands. Bars are written bars from 1, a pickup counted; both ends in.
struct UnitPlace {
    Key key;
    int first_bar = 1;
    int last_bar = 1;
    std::vector<int> chords;  // written chord symbols from 0, as Reading::inst
    int difficulty = 0;       // 0 to 100
    std::string why;          // its two largest causes, in words
    // What its chords are here, where its name does not say it: "ii-bII-I", "iv7-bVII7 in C major".
    std::string here;
    // What it is called here where its kind says too little, and the key that this counts in: "ii-V of V" in
    // G major, whose key by itself would be D major; "iii-biii dim-ii-V-I". Empty: as its kind is called.
    std::string name = {};
    Key named_in = {};
};

struct PracticeUnit {
    UnitKind kind = UnitKind::LoneChord;
    std::vector<UnitPlace> places;  // in order; the first is what the unit is called by
    // The first of the hardest.
    [[nodiscard]] const UnitPlace& hardest_place() const;
};

struct BarDifficulty {
    int bar = 1;         // written, from 1
    int difficulty = 0;  // 0 to 100
    std::string why;
};

struct TuneUnits {
    std::vector<PracticeUnit> units;  // in order of their first place
    std::vector<BarDifficulty> bars;  // the hardest first, all bars
};

// Difficulty counts at the chart's tempo, or 120, in the chart's own key.
[[nodiscard]] TuneUnits units_of(const Chart& chart, const Analysis& analysis);

// How unusual a scale is to the hands, 0 to 10: the points that a bar has for it (docs/units.md).
[[nodiscard]] double points_of_scale(const Scale& scale);

}  // namespace shedbook
