// Rows for major, suspended, augmented and open chords; the last one takes whatever is left. Source codes as
// in docs/harmony.md.
#pragma once

#include "scale_rules.h"

namespace shedbook {

// clang-format off
inline constexpr ScaleRow kMajorRows[]{
    {.source = "33, LEV, calc", .sounds = kSuspended, .needs = kFlat9,
     .scale = "dorian_b2", .others = "phrygian",
     .why = "b9 over a suspended fourth: the second mode of melodic minor holds both, with a natural 13"},
    {.source = "32, CP", .sounds = kSuspended, .needs = kSeventh,
     .scale = "ionian", .others = "lydian",
     .why = "major seventh over a suspended fourth"},
    {.source = "32, CP", .sounds = kSuspended, .lacks = kFlat7, .grounds = kMinorKey, .degrees = set_of(0, 2, 5),
     .scale = "dorian", .others = "aeolian mixolydian",
     .why = "the third is left open; in {key} the minor third fills it"},
    {.source = "32, CP", .sounds = kSuspended, .lacks = kFlat7, .degrees = set_of(0, 5),
     .scale = "ionian", .others = "mixolydian",
     .why = "{numeral} of {key} with its third held back"},
    {.source = "32, H31.2, WJD", .sounds = kSuspended,
     .scale = "mixolydian", .others = "dorian suspended_pentatonic",
     .why = "the fourth is a chord tone, the third only passes"},

    {.source = "4, H31.10", .sounds = kMajors, .needs = kFlat13, .lacks = kFifth,
     .scale = "lydian_augmented", .others = "ionian_sharp_5 augmented",
     .why = "#5 in a major seventh chord: third mode of melodic minor"},
    {.source = "3, calc", .sounds = kMajors, .needs = kSharp9,
     .scale = "lydian_sharp_2", .others = "augmented",
     .why = "#9 in a major seventh chord"},
    {.source = "3, H31.10", .sounds = kMajors, .needs = kFlat5,
     .scale = "lydian",
     .why = "#11 in the symbol"},
    {.source = "1, H31.10, WJD", .sounds = kMajors, .degrees = set_of(0),
     .scale = "ionian", .others = "lydian bebop_major major_pentatonic", .rich = "lydian",
     .why = "I of {key}: the key's own scale"},
    {.source = "2, H31.10, WJD", .sounds = kMajors, .grounds = kMajorKeys, .degrees = set_of(5),
     .scale = "lydian", .others = "ionian major_pentatonic",
     .why = "IV of {key}: the key's own notes, with #4 over the root"},
    {.source = "2, CP", .sounds = kMajors, .grounds = kMinorKey, .degrees = set_of(3),
     .scale = "ionian", .others = "lydian",
     .why = "bIII of {tonic} minor, its relative major: the same notes"},
    {.source = "2, H31.10", .sounds = kMajors, .grounds = kMinorKey, .degrees = set_of(8),
     .scale = "lydian", .others = "ionian",
     .why = "bVI of {tonic} minor: the notes of that key, with #4 over the root"},
    {.source = "15, CP", .sounds = kTriads, .grounds = kMinorKey, .degrees = set_of(5, 10),
     .scale = "mixolydian", .others = "lydian ionian",
     .why = "{numeral} of {tonic} minor: a note of that key lies a whole step under the root"},
    {.source = "2, H31.10", .sounds = kMajors, .degrees = set_of(1, 3, 8, 10),
     .scale = "lydian", .others = "ionian",
     .why = "{numeral}, borrowed in {key}: the #4 lies nearer to the key than a plain 4"},
    {.source = "1, CP", .sounds = kMajors,
     .scale = "lydian", .others = "ionian",
     .why = "a major chord from outside {key}: Lydian has no note that rubs"},

    {.source = "37, H31.10", .sounds = kAugmented,
     .scale = "whole_tone", .others = "lydian_augmented augmented ionian_sharp_5",
     .why = "#5 over a major third: whole steps all the way"},

    {.source = "41, CP", .grounds = kMinorKey, .degrees = set_of(0, 2, 5, 7),
     .scale = "aeolian", .others = "dorian minor_pentatonic",
     .why = "no third in the chord: the one of {key}"},
    {.source = "41, CP", .degrees = set_of(2, 4, 9),
     .scale = "aeolian", .others = "dorian minor_pentatonic",
     .why = "no third in the chord: the one of {key}"},
    {.source = "41, CP", .degrees = set_of(7, 10),
     .scale = "mixolydian", .others = "ionian dorian",
     .why = "no third in the chord: the one of {key}"},
    {.source = "41, CP",
     .scale = "ionian", .others = "mixolydian dorian",
     .why = "no third in the chord: a major one fits {key}"},
};
// clang-format on

}  // namespace shedbook
