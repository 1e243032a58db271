// Drills as data: a cell of notes, moved up and down a scale. One TOML entry each; docs/drills.md explains
// the form to the teacher who writes one.
//
//     [[drill]]
//     id = "thirds"
//     rising = "1 3"        # each note with the third above it
//     falling = "3 1"       # coming down, each pair is turned over
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/source_text.h"
#include "shedbook/drill/invariants.h"
#include "shedbook/drill/pattern.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

struct DrillTemplate {
    enum class Form { Cells, Range };                 // Range: through the whole range of the instrument
    enum class Walk { Scale, Chord };                 // which notes the cells stand on
    enum class Order { UpDown, DownUp, Up, Down };    // of the two halves
    enum class Ends { Shorten, Turn, Drop, Octave };  // what to do where the range ends too soon

    std::string id;
    std::string title;
    std::string about;
    std::string family;
    int level = 1;
    Form form = Form::Cells;
    Walk walk = Walk::Scale;
    Order order = Order::UpDown;
    Ends ends = Ends::Shorten;
    std::string material = "scale";  // see material.h
    int start = 1;                   // degree that the walk begins on
    int octaves = 1;                 // how far it goes up
    int every = 1;                   // a cell on every note, on every second one ...
    std::vector<DrillCell> rising;   // used in turn, by the place of the walk
    std::vector<DrillCell> falling;
    DrillCell turn;  // played between the two halves, on the note that the first ends with; may be empty
    WalkEdge rising_from;
    WalkEdge rising_to{.from_top = true};
    WalkEdge falling_from{.from_top = true};
    WalkEdge falling_to;
    std::optional<CellNote> end;  // degree counted from the start: the note that it comes to rest on
    Rhythm rhythm{{kEighth}};
    ArticulationPattern articulation;
    Meter meter;
    int displaced = 0;             // eighths later than the bar
    bool holds_cells = false;      // the last note of each cell lasts to the end of its bar
    bool in_every_octave = false;  // in each octave that the range has room for
    int fewest_notes = 5;          // smallest scale that it suits
    bool counts_notes = false;     // the numbers of its cells count notes of the scale, not degrees
    bool keeps_start = false;      // it is shortened rather than begun on another chord tone
    DrillInvariants keeps;         // what is true of its notes, however they are written; tests look
    std::string remark;            // what was asked of it and cannot be: "in triplets, so not moved"
    friend bool operator==(const DrillTemplate&, const DrillTemplate&) = default;
};

template <>
inline constexpr Worded<DrillTemplate::Form> kWords<DrillTemplate::Form>[] = {
    {DrillTemplate::Form::Cells, "cells"}, {DrillTemplate::Form::Range, "range"}};
template <>
inline constexpr Worded<DrillTemplate::Walk> kWords<DrillTemplate::Walk>[] = {
    {DrillTemplate::Walk::Scale, "scale"}, {DrillTemplate::Walk::Chord, "chord"}};
template <>
inline constexpr Worded<DrillTemplate::Order> kWords<DrillTemplate::Order>[] = {
    {DrillTemplate::Order::UpDown, "up-down"},
    {DrillTemplate::Order::DownUp, "down-up"},
    {DrillTemplate::Order::Up, "up"},
    {DrillTemplate::Order::Down, "down"}};
template <>
inline constexpr Worded<DrillTemplate::Ends> kWords<DrillTemplate::Ends>[] = {
    {DrillTemplate::Ends::Shorten, "shorten"},
    {DrillTemplate::Ends::Turn, "turn"},
    {DrillTemplate::Ends::Drop, "drop"},
    {DrillTemplate::Ends::Octave, "octave"}};

struct NamedRhythm {
    std::string id;
    std::string about;
    int level = 1;
    Rhythm rhythm;
};

struct NamedArticulation {
    std::string id;
    std::string about;
    int level = 1;
    ArticulationPattern pattern;
};

struct DrillLibrary {
    std::vector<DrillTemplate> drills;
    std::vector<NamedRhythm> rhythms;
    std::vector<NamedArticulation> articulations;

    // By name; case, blanks and hyphens do not count. Null if there is none.
    [[nodiscard]] const DrillTemplate* find_drill(std::string_view name) const;
    [[nodiscard]] const NamedRhythm* find_rhythm(std::string_view name) const;
    [[nodiscard]] const NamedArticulation* find_articulation(std::string_view name) const;
};

// Adds the [[drill]], [[rhythm]] and [[articulation]] entries of a file; one of the same id takes the place
// of the one that was there. Gives the ids of the drills in it.
std::vector<std::string> read_into(DrillLibrary& library, const SourceText& source, Diagnostics& diagnostics);
// The drills of a file by themselves; they may be like the shipped ones.
[[nodiscard]] std::vector<DrillTemplate> read_drill_templates(const SourceText& source,
                                                              Diagnostics& diagnostics);

// What comes with the program, in its order, and what the user's own files add to it (io/own_templates.h).
[[nodiscard]] const DrillLibrary& shipped_drills();
// Ids of the drills in the user's own files.
[[nodiscard]] std::vector<std::string> own_drills();
[[nodiscard]] const std::vector<DrillTemplate>& drill_templates();
[[nodiscard]] const DrillTemplate* find_drill(std::string_view name);
[[nodiscard]] std::vector<std::string> drill_names();

// The rhythm that a text means: a name ("triplets", or one of the library) or lengths ("1/8 1/8 1/4").
// Nothing if it is neither; `fault` then says why. The same for a way to articulate: a name or marks ("(o o)
// . .").
[[nodiscard]] std::optional<Rhythm> rhythm_called(std::string_view text, const DrillLibrary& library,
                                                  std::string& fault);
[[nodiscard]] std::optional<ArticulationPattern> articulation_called(std::string_view text,
                                                                     const DrillLibrary& library,
                                                                     std::string& fault);

// A drill in another setting than its template says.
struct DrillSetting {
    std::optional<Meter> meter = {};
    std::optional<Rhythm> rhythm = {};
    std::optional<ArticulationPattern> articulation = {};
    std::optional<int> displaced = {};  // eighths
    bool in_every_octave = false;
    bool keeps_start = false;  // for basses: on the root, shorter if need be
};
// Where a wish does not suit the drill, it stays as it is there and `remark` says so.
[[nodiscard]] DrillTemplate in_setting(DrillTemplate drill, const DrillSetting& setting);

}  // namespace shedbook
