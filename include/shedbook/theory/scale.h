// Scales: one table of types, and a type put on a tonic.
//
//     const ScaleType* dorian = find_scale_type("dorian");
//     spelled(Scale{*parse_pitch_class("D"), dorian});         // D E F G A B C
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/theory/interval.h"
#include "shedbook/theory/pitch_class.h"

namespace shedbook {

// One row of the scale table.
struct ScaleType {
    std::string_view id;    // snake case, stable: "lydian_dominant"
    std::string_view name;  // as musicians say it: "Lydian dominant"
    DegreeList degrees;     // over the tonic, rising from the unison: "1 2 3 #4 5 6 b7"
    std::string_view
        labels;  // degrees as they are called where that differs from how they are written (altered)
    std::string_view other_names;      // separated by "; "
    std::string_view read_names = {};  // the same, understood but never offered

    [[nodiscard]] std::span<const Interval> intervals() const { return degrees.intervals(); }
    // Semitones over the tonic as a bit set: bit 0 is the tonic.
    [[nodiscard]] unsigned pitch_set() const;
};

// Degrees as they are called, in scale order: "1", "b9", "#9", "3" ... of the altered scale.
[[nodiscard]] std::vector<std::string_view> degree_names(const ScaleType& type);

[[nodiscard]] std::span<const ScaleType> scale_types();
// A row more, or another row of the same id; what it points to stays to the end of the program. Before
// anything has asked for a type (assert): scales point into the table.
void add_scale_type(const ScaleType& type);
// By id, name or other name; case, spaces, hyphens and underscores do not count. Null if there is none.
[[nodiscard]] const ScaleType* find_scale_type(std::string_view name);
// Every spelling that find_scale_type takes, for suggestions.
[[nodiscard]] std::vector<std::string> scale_type_names();

// `type` points into the table and is never null in a Scale that anybody may use.
struct Scale {
    PitchClass tonic;
    const ScaleType* type = nullptr;
    friend bool operator==(const Scale&, const Scale&) = default;
};

// The notes by the degrees of the table: seven letters for a seven-note scale, double accidentals where they
// fall.
[[nodiscard]] std::vector<PitchClass> strict_notes(const Scale& scale);
// The notes as they are printed (trade rule): seven-note scales as strict_notes; the altered scale and scales
// of more or fewer notes without double accidentals, no letter three times, and the notes of `chord` as the
// chord spells them wherever that is possible.
[[nodiscard]] std::vector<PitchClass> spelled(const Scale& scale, std::span<const PitchClass> chord = {});
// Pitch classes sounding, 0 to 11, in scale order.
[[nodiscard]] std::vector<int> sounding_notes(const Scale& scale);
[[nodiscard]] bool contains(const Scale& scale, PitchClass note);
// "D Dorian".
[[nodiscard]] std::string to_string(const Scale& scale);
// Reads "F lydian", "Bb half-whole diminished"; nothing if the note or the name is not known.
[[nodiscard]] std::optional<Scale> parse_scale(std::string_view text);

}  // namespace shedbook
