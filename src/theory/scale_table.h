// The scale table itself. A new scale is a row here, and one in harmony's scale_uses.h or scale_rows_*.h if
// chords may take it (DEVELOPERS.md); tests/theory/scale_test.cpp checks every row as data.
#pragma once

#include "shedbook/theory/scale.h"

namespace shedbook {

// Degrees are counted against the major scale. Formulas are textbook facts (Hutchinson, Music Theory for the
// 21st-Century Classroom, 31.9, for the scales of jazz; the modes of each parent by rotation). Printed
// spelling of the eight-note and whole-tone rows: the same, 31.9. The altered scale is printed with a plain
// third and fifth, house rule.
inline constexpr ScaleType kScaleTypes[]{
    // Modes of the major scale
    {"ionian", "Ionian", "1 2 3 4 5 6 7", "", "major"},
    {"dorian", "Dorian", "1 2 b3 4 5 6 b7", "", ""},
    {"phrygian", "Phrygian", "1 b2 b3 4 5 b6 b7", "", ""},
    {"lydian", "Lydian", "1 2 3 #4 5 6 7", "", ""},
    {"mixolydian", "Mixolydian", "1 2 3 4 5 6 b7", "", ""},
    {"aeolian", "Aeolian", "1 2 b3 4 5 b6 b7", "", "natural minor; minor"},
    {"locrian", "Locrian", "1 b2 b3 4 b5 b6 b7", "", ""},
    // Modes of melodic minor (rising form)
    {"melodic_minor", "melodic minor", "1 2 b3 4 5 6 7", "", "jazz minor"},
    {"dorian_b2", "Dorian b2", "1 b2 b3 4 5 6 b7", "", "Phrygian natural 6"},
    {"lydian_augmented", "Lydian augmented", "1 2 3 #4 #5 6 7", "", "Lydian #5"},
    {"lydian_dominant", "Lydian dominant", "1 2 3 #4 5 6 b7", "",
     "Lydian b7; Mixolydian #4; overtone; acoustic"},
    {"mixolydian_b6", "Mixolydian b6", "1 2 3 4 5 b6 b7", "", "Mixolydian b13; Aeolian dominant"},
    {"locrian_natural_2", "Locrian natural 2", "1 2 b3 4 b5 b6 b7", "", "Locrian #2; Aeolian b5"},
    {"altered", "altered", "1 b2 b3 3 b5 b6 b7", "1 b9 #9 3 #11 b13 b7",
     "super Locrian; diminished whole tone"},
    // Modes of harmonic minor
    {"harmonic_minor", "harmonic minor", "1 2 b3 4 5 b6 7", "", ""},
    {"locrian_natural_6", "Locrian natural 6", "1 b2 b3 4 b5 6 b7", "", "Locrian 6"},
    {"ionian_sharp_5", "Ionian #5", "1 2 3 4 #5 6 7", "", "Ionian augmented"},
    {"dorian_sharp_4", "Dorian #4", "1 2 b3 #4 5 6 b7", "", "Dorian #11"},
    {"phrygian_dominant", "Phrygian dominant", "1 b2 3 4 5 b6 b7", "", "Mixolydian b2 b6"},
    {"lydian_sharp_2", "Lydian #2", "1 #2 3 #4 5 6 7", "", "Lydian #9"},
    {"ultra_locrian", "ultra Locrian", "1 b2 b3 b4 b5 b6 bb7", "", "altered bb7; super Locrian bb7"},
    // Modes of harmonic major
    {"harmonic_major", "harmonic major", "1 2 3 4 5 b6 7", "", "Ionian b6"},
    {"dorian_b5", "Dorian b5", "1 2 b3 4 b5 6 b7", "", "Locrian natural 2 natural 6"},
    {"phrygian_b4", "Phrygian b4", "1 b2 b3 b4 5 b6 b7", "", ""},
    {"lydian_b3", "Lydian b3", "1 2 b3 #4 5 6 7", "", "Lydian diminished; melodic minor #4"},
    {"mixolydian_b2", "Mixolydian b2", "1 b2 3 4 5 6 b7", "", "Mixolydian b9"},
    {"lydian_augmented_sharp_2", "Lydian augmented #2", "1 #2 3 #4 #5 6 7", "", ""},
    {"locrian_bb7", "Locrian bb7", "1 b2 b3 4 b5 b6 bb7", "", ""},
    // Modes of double harmonic major
    {"double_harmonic_major", "double harmonic major", "1 b2 3 4 5 b6 7", "", "Byzantine"},
    {"lydian_sharp_2_sharp_6", "Lydian #2 #6", "1 #2 3 #4 5 #6 7", "", ""},
    {"ultra_phrygian", "ultra Phrygian", "1 b2 b3 b4 5 b6 bb7", "", ""},
    {"hungarian_minor", "Hungarian minor", "1 2 b3 #4 5 b6 7", "", "double harmonic minor"},
    {"oriental", "oriental", "1 b2 3 4 b5 6 b7", "", "Mixolydian b2 b5"},
    {"ionian_sharp_2_sharp_5", "Ionian #2 #5", "1 #2 3 4 #5 6 7", "", ""},
    {"locrian_bb3_bb7", "Locrian bb3 bb7", "1 b2 bb3 4 b5 b6 bb7", "", ""},
    // Symmetric scales
    {"half_whole_diminished", "half-whole diminished", "1 b2 b3 3 #4 5 6 b7", "1 b9 #9 3 #11 5 13 b7",
     "dominant diminished"},
    {"whole_half_diminished", "whole-half diminished", "1 2 b3 4 b5 b6 6 7", "", "diminished"},
    {"whole_tone", "whole tone", "1 2 3 #4 #5 b7", "", ""},
    {"augmented", "augmented", "1 #2 3 5 #5 7", "", "augmented hexatonic; symmetrical augmented"},
    {"augmented_inverse", "augmented inverse", "1 b2 3 4 #5 6", "", ""},
    {"chromatic", "chromatic", "1 b2 2 b3 3 4 b5 5 b6 6 b7 7", "", ""},
    // Scales with an added passing note
    {"bebop_dominant", "Mixolydian added 7", "1 2 3 4 5 6 b7 7", "", "bebop dominant"},
    {"bebop_major", "major added #5", "1 2 3 4 5 #5 6 7", "", "bebop major", "major sixth diminished"},
    {"bebop_dorian", "Dorian added 3", "1 2 b3 3 4 5 6 b7", "", "bebop Dorian; bebop minor"},
    {"bebop_melodic_minor", "melodic minor added #5", "1 2 b3 4 5 #5 6 7", "", "bebop melodic minor",
     "minor sixth diminished"},
    {"bebop_harmonic_minor", "harmonic minor added b7", "1 2 b3 4 5 b6 b7 7", "", "bebop harmonic minor"},
    {"bebop_locrian", "Locrian added 5", "1 b2 b3 4 b5 5 b6 b7", "", "bebop Locrian"},
    {"bebop_phrygian_dominant", "Phrygian dominant added 7", "1 b2 3 4 5 b6 b7 7", "",
     "bebop Phrygian dominant"},
    // Pentatonic scales
    {"major_pentatonic", "major pentatonic", "1 2 3 5 6", "", "pentatonic"},
    {"suspended_pentatonic", "suspended pentatonic", "1 2 4 5 b7", "", ""},
    {"blues_minor_pentatonic", "blues minor pentatonic", "1 b3 4 b6 b7", "", ""},
    {"blues_major_pentatonic", "blues major pentatonic", "1 2 4 5 6", "", ""},
    {"minor_pentatonic", "minor pentatonic", "1 b3 4 5 b7", "", ""},
    {"dominant_pentatonic", "dominant pentatonic", "1 2 3 5 b7", "", ""},
    {"minor_6_pentatonic", "minor 6 pentatonic", "1 b3 4 5 6", "", ""},
    {"minor_7_flat_5_pentatonic", "minor 7 flat 5 pentatonic", "1 b3 4 b5 b7", "", "Locrian pentatonic"},
    {"flat_6_pentatonic", "major pentatonic b6", "1 2 3 5 b6", "", "major b6 pentatonic",
     "flat 6 pentatonic"},
    {"flat_3_pentatonic", "Dorian pentatonic", "1 2 b3 5 6", "", "Kumoi", "flat 3 pentatonic"},
    {"hirajoshi", "Hirajoshi", "1 2 b3 5 b6", "", ""},
    {"iwato", "Iwato", "1 b2 4 b5 b7", "", ""},
    {"kumoijoshi", "Kumoijoshi", "1 b2 4 5 b6", "", ""},
    {"pelog", "Pelog", "1 b2 b3 5 b6", "", "Balinese pentatonic"},
    {"insen", "In-sen", "1 b2 4 5 b7", "", ""},
    {"mixolydian_pentatonic", "Mixolydian pentatonic", "1 3 4 5 b7", "", ""},
    {"ionian_pentatonic", "Ionian pentatonic", "1 3 4 5 7", "", ""},
    {"lydian_pentatonic", "Lydian pentatonic", "1 3 #4 5 7", "", ""},
    // Blues scales
    {"blues", "blues", "1 b3 4 b5 5 b7", "", "minor blues"},
    {"major_blues", "major blues", "1 2 b3 3 5 6", "", ""},
    {"composite_blues", "blues with both thirds", "1 2 b3 3 4 b5 5 6 b7", "", "", "composite blues"},
    // Others met in tunes
    {"prometheus", "Prometheus", "1 2 3 #4 6 b7", "", "mystic"},
    {"neapolitan_minor", "Neapolitan minor", "1 b2 b3 4 5 b6 7", "", ""},
    {"neapolitan_major", "Neapolitan major", "1 b2 b3 4 5 6 7", "", ""},
    {"lydian_minor", "Lydian minor", "1 2 3 #4 5 b6 b7", "", "Lydian dominant b6"},
    {"major_locrian", "major Locrian", "1 2 3 4 b5 b6 b7", "", "Locrian natural 2 natural 3"},
    {"leading_whole_tone", "leading whole tone", "1 2 3 #4 #5 #6 7", "", ""},
    {"persian", "Persian", "1 b2 3 4 b5 b6 7", "", ""},
    {"enigmatic", "enigmatic", "1 b2 3 #4 #5 #6 7", "", ""},
    {"spanish_eight_tone", "Spanish eight-tone", "1 b2 b3 3 4 b5 b6 b7", "", ""},
    {"hungarian_major", "Hungarian major", "1 #2 3 #4 5 6 b7", "", ""},
};

}  // namespace shedbook
