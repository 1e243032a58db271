// The places of a line that moves in one value: where each note stands, under which chord, and what it must
// not rub against.
//
//     LineSlots slots{ground, kEighth};
//     slots.all[0].span;                                       // the chord of the first note
#pragma once

#include <vector>

#include "chord_facts.h"
#include "shedbook/etude/ground.h"

namespace shedbook {

struct Slot {
    Position at;
    Duration length;
    std::size_t span = 0;  // into LineSlots::spans
    bool opens = false;    // the first note of its chord
    bool closes = false;   // the last one
    bool fresh = false;    // nothing sounds just before
    bool starts_bar = false;
    bool is_strong = false;  // half a bar
    bool on_beat = false;
    bool is_last = false;         // the note that the line comes to rest on
    SoundSet clear = kAllSounds;  // rubs against none of the chords that it sounds under
};

// A chord heeded on the grid of the line: one that is pushed to a place between two notes counts from the
// nearer note on, so that the line keeps its rhythm. What tells a sus chord is its fourth, and what tells the
// dominant behind it on the same root is the third, so that the two differ.
struct LineSpan {
    const ScaleSpan* span = nullptr;
    ChordFacts facts;
    SoundSet altered = 0;  // see altered_tones
    SoundSet third = 0;    // see leading_third
    bool is_duty = false;  // two quarters or more: a tone of it must tell it
    [[nodiscard]] SoundSet told() const { return third != 0 ? third : facts.tell; }
};

// Where a chord that is pushed off the beat counts from.
enum class Heed { NearestNote, NearestBeat };

struct LineSlots {
    LineSlots(const EtudeGround& ground, Duration value, Heed heed = Heed::NearestNote);
    std::vector<Slot> all;
    std::vector<LineSpan> spans;
};

// The value in a meter: in compound meters a quarter is the beat, and triplets are its eighths; in uneven
// ones a quarter stays a quarter, and the groups make it longer.
[[nodiscard]] Duration value_in(const Meter& meter, Duration value);
// How long a chord lasts that must be told, by the beat: two quarters, or a dotted quarter where that is the
// beat.
[[nodiscard]] inline Duration least_told(Duration beat) {
    return beat == kQuarter + kEighth ? beat : kHalf;
}
// How long the last note rests.
[[nodiscard]] Duration last_rest(const GroundBar& bar);

}  // namespace shedbook
