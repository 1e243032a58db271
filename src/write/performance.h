// A piece of written music as it is played: repeats taken, so many times through, in sounding pitch, each
// note with its place and length. Still as written in time; swing and tempo come when ticks are made of it.
#pragma once

#include <vector>

#include "shedbook/band/accompaniment.h"
#include "shedbook/notation/document.h"

namespace shedbook {

struct PlayedNote {
    Position at;
    Duration length;
    int key = 0;
    Articulation articulation = Articulation::None;
    bool is_slurred_on = false;
};

// Where a fermata holds everybody, or a caesura stops them.
struct HeldPlace {
    Position at;
    Duration length;
    bool is_silence = false;  // after it
};

struct Performance {
    Duration pickup;  // at the very beginning, before the first of the bars
    std::vector<BandBar> bars;
    std::vector<BandChord> chords;
    std::vector<PlayedNote> line;
    std::vector<Position> edges;     // where notes and rests of the line begin, rising
    std::vector<Position> passes;    // where each time through begins
    std::vector<BandNote> heard;     // the line as the band hears it
    std::vector<Position> sections;  // where bars begin that the page marks as the start of a section
    std::vector<HeldPlace> holds;    // rising
    Duration length;
};

// `scale`: pitch classes of the scale that the piece is about, bit 0 is C; 0: none.
[[nodiscard]] Performance perform(const WrittenMusic& music, int times, unsigned scale);

// Its measures in the order in which they are played, once through.
[[nodiscard]] std::vector<std::size_t> measures_in_order(const WrittenMusic& music);

// What there is before a place.
void cut_off(Performance& piece, Position end);

// How many full bars once through has.
[[nodiscard]] std::size_t bars_once_through(const WrittenMusic& music);

}  // namespace shedbook
