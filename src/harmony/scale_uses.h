// Where harmony may choose a scale of theory's table, beyond what the rows of the rules name, and what it
// says of it. A scale has one row here or none.
#pragma once

#include <array>

#include "scale_rules.h"

namespace shedbook {

struct ScaleUse {
    // On chords of these sounds; those of the lowest place are searched first, of one place in their order.
    struct Over {
        unsigned sounds = 0;
        int place = 0;
    };

    std::string_view scale;
    std::string_view brings;  // in a few words, for the player
    std::array<Over, 4> over{};
    // A melody note may decide for it: it differs from its neighbours in 4, 6, 7 or 9. Rarer scales would
    // make a scale of every passing note.
    bool by_melody = false;
};

// A row more, or another for the same scale, before any chord was read. Its texts stay to the end of the
// program.
void add_scale_use(const ScaleUse& use);

inline constexpr unsigned kMajorsAndOpen = kMajors | set_of(Sound::Open);
inline constexpr unsigned kAllMinors = kMinors | kTonicMinors;

// clang-format off
inline constexpr ScaleUse kScaleUses[]{
    {.scale = "ionian", .brings = "the plain major scale, with a 4 to pass over",
     .over = {{{kMajorsAndOpen, 1}, {kSuspended, 2}}}, .by_melody = true},
    {.scale = "dorian", .brings = "natural 6: brighter, nothing rubs against the 5",
     .over = {{{kAllMinors, 1}, {kSuspended, 3}}}, .by_melody = true},
    {.scale = "phrygian", .brings = "b9 and b6 as in the key of the chord's relatives",
     .over = {{{kAllMinors, 4}, {kSuspended, 6}}}, .by_melody = true},
    {.scale = "lydian", .brings = "#4 instead of the 4 that rubs against the 3",
     .over = {{{kMajorsAndOpen, 2}}}, .by_melody = true},
    {.scale = "mixolydian", .brings = "the plain dominant scale, natural 9 and 13",
     .over = {{{kMajorsAndOpen, 3}, {kDominants, 1}, {kSuspended, 1}}}, .by_melody = true},
    {.scale = "aeolian", .brings = "b6, the darker natural minor",
     .over = {{{kAllMinors, 2}, {kSuspended, 4}}}, .by_melody = true},
    {.scale = "locrian", .brings = "the plain scale of the half-diminished chord, with b9",
     .over = {{{kHalfDiminished, 1}, {kDiminished, 3}}}, .by_melody = true},
    {.scale = "melodic_minor", .brings = "major 6 and 7: a minor tonic that needs no resolving",
     .over = {{{kAllMinors, 3}}}, .by_melody = true},
    {.scale = "harmonic_minor", .brings = "b6 with a major 7, the sound of a minor cadence",
     .over = {{{kAllMinors, 5}}}, .by_melody = true},
    {.scale = "dorian_sharp_4", .brings = "#4 with a natural 6",
     .over = {{{kAllMinors, 7}}}},
    {.scale = "lydian_b3", .brings = "#4 with a major 6 and 7",
     .over = {{{kAllMinors, 9}}}},
    {.scale = "hungarian_minor", .brings = "#4 with b6 and a major 7",
     .over = {{{kAllMinors, 8}}}},
    {.scale = "lydian_augmented", .brings = "#4 and #5 over a major chord",
     .over = {{{kMajorsAndOpen, 7}, {kAugmented, 2}}}},
    {.scale = "ionian_sharp_5", .brings = "#5 with a plain 4: third mode of harmonic minor",
     .over = {{{kMajorsAndOpen, 8}, {kAugmented, 3}}}},
    {.scale = "lydian_dominant", .brings = "#11 instead of the 4 that rubs against the 3",
     .over = {{{kMajorsAndOpen, 5}, {kDominants, 2}}}, .by_melody = true},
    {.scale = "mixolydian_b6", .brings = "natural 9 with b13",
     .over = {{{kMajorsAndOpen, 4}, {kDominants, 3}}}, .by_melody = true},
    {.scale = "phrygian_dominant", .brings = "b9 and b13 with the plain 4 and 5, as in a minor key",
     .over = {{{kMajorsAndOpen, 6}, {kDominants, 4}}}, .by_melody = true},
    {.scale = "altered", .brings = "every tension altered: the strongest pull",
     .over = {{{kDominants, 6}, {kAugmented, 5}}}, .by_melody = true},
    {.scale = "mixolydian_b2", .brings = "b9 with a natural 13 and a plain 4",
     .over = {{{kDominants, 7}}}},
    {.scale = "half_whole_diminished", .brings = "b9 and #9 with a natural 13",
     .over = {{{kDominants, 5}}}},
    {.scale = "whole_half_diminished", .brings = "a whole step above every chord tone",
     .over = {{{kDiminished, 1}}}},
    {.scale = "ultra_locrian", .brings = "{above} harmonic minor from {root}, its leading note",
     .over = {{{kDiminished, 2}}}, .by_melody = true},
    {.scale = "locrian_bb7", .brings = "b9 and b13 around the diminished seventh",
     .over = {{{kDiminished, 5}}}},
    {.scale = "whole_tone", .brings = "#11 and #5 without any half step",
     .over = {{{kDominants, 8}, {kAugmented, 1}}}},
    {.scale = "augmented", .brings = "two augmented triads a half step apart",
     .over = {{{kAugmented, 4}}}},
    {.scale = "dorian_b2", .brings = "b9 with a natural 13",
     .over = {{{kAllMinors, 6}, {kSuspended, 5}}}},
    {.scale = "dorian_b5", .brings = "natural 9 and natural 6 over the b5",
     .over = {{{kHalfDiminished, 4}, {kDiminished, 6}}}},
    {.scale = "locrian_natural_2", .brings = "a natural 9, softer than b9",
     .over = {{{kHalfDiminished, 2}, {kDiminished, 4}}}, .by_melody = true},
    {.scale = "locrian_natural_6", .brings = "a natural 6: the leading note of the V that follows is kept",
     .over = {{{kHalfDiminished, 3}}}},
    {.scale = "lydian_sharp_2", .brings = "#9 beside the major third, with #4",
     .over = {{{kMajorsAndOpen, 9}}}},
    {.scale = "bebop_dominant", .brings = "a passing natural 7, so that chord tones fall on the beat",
     .over = {{{kDominants, 9}}}},
    {.scale = "bebop_major", .brings = "a passing #5, so that chord tones fall on the beat"},
    {.scale = "bebop_dorian", .brings = "a passing major 3, so that chord tones fall on the beat"},
    {.scale = "blues", .brings = "the blues scale: b3 and b5 against the chord"},
    {.scale = "major_pentatonic", .brings = "five notes, none to pass over"},
    {.scale = "minor_pentatonic", .brings = "five notes, none to pass over"},
    {.scale = "suspended_pentatonic", .brings = "five notes, the third left out"},
};
// clang-format on

}  // namespace shedbook
