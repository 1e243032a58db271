// A melody as it sounds: spelled notes with exact times. What drills and etudes make, before any instrument
// sees it.
//
//     ConcertLine line;
//     line.notes.push_back({pitch, Position{}, kEighth});
//     transposed(line, kOctave);                               // the same an octave higher
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "shedbook/base/time.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

enum class Articulation : std::int8_t { None, Staccato, Tenuto, Accent };

struct LineNote {
    Pitch pitch;
    Position at;  // from the start of the line
    Duration length;
    Articulation articulation = Articulation::None;
    bool slur_starts = false;
    bool slur_stops = false;
    friend bool operator==(const LineNote&, const LineNote&) = default;
};

// A further note of a chord: struck together with the note of this index, and as long.
struct NoteBelow {
    std::size_t note = 0;
    Pitch pitch;
    friend bool operator==(const NoteBelow&, const NoteBelow&) = default;
};

// Small words under the staff: the idea behind a place ("target", "enclosure").
struct LineText {
    Position at;
    std::string text;
    friend bool operator==(const LineText&, const LineText&) = default;
};

// A stretch without notes that the player fills: slashes, one a beat.
struct OpenStretch {
    Position at;
    Duration length;
    friend bool operator==(const OpenStretch&, const OpenStretch&) = default;
};

// One voice: notes in order of time, none overlapping; what lies between them is rest. Of a chord the highest
// is the note, and the others are below it.
struct ConcertLine {
    std::vector<LineNote> notes;
    Duration length;  // of the whole line, a rest at its end included
    std::vector<LineText> texts;
    std::vector<OpenStretch> open;  // whole beats, no notes in them
    std::vector<Position> breaths;  // where a phrase ends: at the end of a note
    std::vector<NoteBelow> below;   // in order of their notes, from the highest
};

[[nodiscard]] ConcertLine transposed(ConcertLine line, Interval by);
[[nodiscard]] bool is_within(const ConcertLine& line, PitchRange range);

}  // namespace shedbook
