// Music on paper: bars of events with everything decided (transposition, spelling, accidentals, beams, ties,
// breaks); a writer only draws or plays what it can.
//
//     WrittenMusic music = notate(line, {.instrument = alto, .open_key = true});
//     music.events_of(music.measures[0]).size();               // 8: a bar of eighths
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "shedbook/notation/instrument.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/concert_line.h"
#include "shedbook/theory/form_sign.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// Time inside a music block: whole numbers, WrittenMusic::ticks_per_quarter of them to a quarter.
using Ticks = std::int32_t;

// What is drawn: 0 a whole note, 1 a half, 2 a quarter, 3 an eighth ...; how long it lasts is Event::length.
struct NoteValue {
    std::int8_t log2 = 2;
    std::int8_t dots = 0;
    friend bool operator==(const NoteValue&, const NoteValue&) = default;
};

// `actual` notes in the time of `normal`; 1:1 outside a tuplet.
struct Tuplet {
    std::int8_t actual = 1;
    std::int8_t normal = 1;
    bool starts = false;
    bool stops = false;
    bool bracket = false;  // where no beam joins the notes
    friend bool operator==(const Tuplet&, const Tuplet&) = default;
};

enum class Beam : std::int8_t { None, Begin, Continue, End, ForwardHook, BackwardHook };
inline constexpr int kBeamLevels = 4;  // to sixty-fourth notes

// An accidental that is printed, by its alteration; what sounds is in the pitch.
enum class Accidental : std::int8_t { None, DoubleFlat, Flat, Natural, Sharp, DoubleSharp };

struct Rest {
    bool whole_bar = false;
    bool hidden = false;  // empty staff, for the player to write in or to play from memory
};
// A further note of a chord; it is tied and marked as its highest one.
struct ChordNote {
    WrittenPitch pitch;
    Accidental shown = Accidental::None;
};
struct Sounded {
    WrittenPitch pitch;  // of a chord the highest
    Accidental shown = Accidental::None;
    bool tied_from_before = false;
    bool tied_on = false;
    Articulation articulation = Articulation::None;
    bool slur_starts = false;
    bool slur_stops = false;
    bool breath_after = false;
    // An octave line: the notes under it are drawn an octave lower than they are (`octave_line` 1) or higher
    // (-1); `pitch` is what they are.
    std::int8_t octave_line = 0;
    bool octave_line_starts = false;
    bool octave_line_stops = false;
    // Notes of a chord below `pitch`, in WrittenMusic::below: see notes_below().
    std::uint8_t below_count = 0;
    std::uint32_t first_below = 0;
};
// A beat left to the player: a slash on the middle line, which a reader that knows no slashes shows as this
// note.
struct Slash {
    WrittenPitch on;
    bool has_stem = false;  // shorter than a quarter: a rhythm that is to be played
};

struct Event {
    Ticks at = 0;  // from the start of the measure
    Ticks length = 0;
    NoteValue value;
    Tuplet tuplet;
    std::array<Beam, kBeamLevels> beams{};
    std::variant<Rest, Sounded, Slash> what;
};

// A chord symbol as written in this part, before the event at the same tick; nothing: no chord from here on.
struct ChordMark {
    Ticks at = 0;
    std::optional<ChordSymbol> symbol;
    bool is_optional = false;  // in brackets: a player may leave it out
};

// Small words below the staff, before the event at the same tick of the same measure.
struct TextMark {
    std::size_t measure = 0;
    Ticks at = 0;
    std::string text;
    bool names_bars = false;  // what is to be done from here on: "your version"
};

// What stands under a note in the row of fingerings: "13", a position, a finger, a fret.
struct NoteFingering {
    std::string text = {};         // empty: nothing
    int string = 0;                // counted from the highest, 1; 0: none
    bool is_fret = false;          // `text` is a fret of that string, not a finger
    std::string string_name = {};  // where the string changes: "D" of a bow, the number of a fretted one
};

enum class Barline : std::int8_t { Plain, Double };

// A bracket over the bars of an ending.
struct Ending {
    std::string numbers;  // "1", "1, 2"
    bool starts = false;
    bool stops = false;
    bool open = false;  // with `stops`: no hook at its end (the last ending)
};

// A sign beside a bar, or the label of a section.
struct Sign {
    std::optional<FormSign> form;  // nothing: a label
    std::string label;
};

struct Measure {
    std::size_t first_event = 0;  // into WrittenMusic::events
    std::size_t event_count = 0;
    std::size_t first_chord = 0;  // into WrittenMusic::chords
    std::size_t chord_count = 0;
    std::optional<Meter> meter;  // where it changes
    std::optional<Clef> clef;    // where it changes, not at the first bar
    bool is_pickup = false;      // shorter than the meter, before the first full bar
    bool new_system = false;
    bool new_page = false;
    bool repeats_before = false;  // the bar before once more: a page may show % in its place
    Barline right = Barline::Plain;
    // That it is counted by on pages (a MusicXML file counts all its bars); nothing: one more than the bar
    // before, 1 at first.
    std::optional<int> number;
    bool repeat_start = false;
    int repeat_end = 0;  // how often the passage is played in all; 0: no repeat
    std::optional<Ending> ending;
    std::vector<Sign> signs_before;  // at its left
    std::vector<Sign> signs_after;   // at its right
};

struct TempoMark {
    int per_minute = 0;
    NoteValue beat;           // what is counted
    bool is_of_tune = false;  // the tune's own, for which these notes are too fast
};

// One piece of music, whatever it is for: a block of the document says that.
struct WrittenMusic {
    std::optional<TempoMark> tempo;
    std::string feel;              // "Swing"; may be empty
    int key_fifths = 0;            // written signature
    std::optional<Mode> key_mode;  // nothing: not known
    bool open_key = false;         // no key: every accidental is written, and the meter is not shown
    Meter meter;
    Clef clef;
    Transposition transposition;
    Ticks ticks_per_quarter = 12;
    bool shows_bar_numbers = false;
    std::vector<Measure> measures;
    // Measures in order of play, repeats and jumps taken; empty: as they stand.
    std::vector<std::size_t> played;
    std::vector<Event> events;
    std::vector<ChordNote> below;  // of all chords of notes, each from its highest
    std::vector<ChordMark> chords;
    std::vector<TextMark> texts;  // in order of time
    // One for each event; or none at all: no row.
    std::vector<NoteFingering> fingerings;
    // A second staff below (none or one), of as many measures as this one: the left hand of a keyboard.
    std::vector<WrittenMusic> lower;

    // Of each measure.
    [[nodiscard]] std::vector<Clef> clefs() const {
        std::vector<Clef> out;
        out.reserve(measures.size());
        for (const Measure& measure : measures)
            out.push_back(measure.clef.value_or(out.empty() ? clef : out.back()));
        return out;
    }
    [[nodiscard]] std::span<const Event> events_of(const Measure& measure) const {
        return std::span{events}.subspan(measure.first_event, measure.event_count);
    }
    [[nodiscard]] std::span<const ChordNote> notes_below(const Sounded& note) const {
        return std::span{below}.subspan(note.first_below, note.below_count);
    }
    // The note's places on the staff (letters above C0), from the lowest of its chord to itself.
    [[nodiscard]] std::pair<int, int> staff_places(const Sounded& note) const {
        const int high = note.pitch.on_paper().staff_place();
        const auto others = notes_below(note);
        return {others.empty() ? high : std::min(high, others.back().pitch.on_paper().staff_place()), high};
    }
    [[nodiscard]] std::span<const ChordMark> chords_of(const Measure& measure) const {
        return std::span{chords}.subspan(measure.first_chord, measure.chord_count);
    }
};

}  // namespace shedbook
