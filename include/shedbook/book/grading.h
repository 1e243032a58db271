// How hard a piece of music is to read and to play, in figures: what a level claims, measured on the page.
//
//     Grading g = grade(*score);
//     g.largest_leap;                                          // in semitones
//     write_grading(g, std::cout);
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "shedbook/chart/score_notes.h"

namespace shedbook {

struct Grading {
    int bars = 0;
    int notes = 0;
    Pitch lowest;  // written
    Pitch highest;
    int range = 0;         // semitones from lowest to highest
    int largest_leap = 0;  // semitones between neighbours with no rest between them
    double mean_leap = 0;
    int most_accidentals = 0;     // printed in one bar, the signature's on top
    double mean_accidentals = 0;  // the same for all bars with notes
    double most_notes_a_beat = 0;
    double mean_notes_a_beat = 0;  // over the beats in which something sounds
    int off_beat_percent = 0;      // of all notes: struck neither on a beat nor on its half
    int distinct_scales = 0;       // named in the headings; where none is, the different chords
};

[[nodiscard]] Grading grade(const ScoreNotes& score);

// A line for each figure, in words and numbers.
void write_grading(const Grading& grading, std::ostream& out);

}  // namespace shedbook
