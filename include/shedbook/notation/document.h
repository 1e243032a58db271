// A document on its way to paper or sound: a sequence of blocks that every writer walks. Everything is
// decided here (transposition, spelling, accidentals, beams, ties, breaks); a writer only draws or plays what
// it can.
//
//     sink.begin({.title = "Blue Door", .instrument = *find_instrument("alto-sax")});
//     sink.take(Heading{...}); sink.take(notate(line, ...));
//     sink.finish();
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
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
struct Sounded {
    WrittenPitch pitch;
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
};
// A beat left to the player: a slash on the middle line, which a reader that knows no slashes shows as this
// note.
struct Slash {
    WrittenPitch on;
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
};

// Small words below the staff, before the event at the same tick of the same measure.
struct TextMark {
    std::size_t measure = 0;
    Ticks at = 0;
    std::string text;
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
    bool is_pickup = false;      // shorter than the meter, before the first full bar
    bool new_system = false;
    bool new_page = false;
    Barline right = Barline::Plain;
    bool repeat_start = false;
    int repeat_end = 0;  // how often the passage is played in all; 0: no repeat
    std::optional<Ending> ending;
    std::vector<Sign> signs_before;  // at its left
    std::vector<Sign> signs_after;   // at its right
};

struct TempoMark {
    int per_minute = 0;
    NoteValue beat;  // what is counted
};

// One piece of music: a drill, an etude, a rhythm part.
struct WrittenMusic {
    std::string number;  // "2.3"; may be empty
    std::string title;   // "In thirds"; may be empty
    std::string remark;  // "from the 5th, to stay in range"; may be empty
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
    std::vector<ChordMark> chords;
    std::vector<TextMark> texts;  // in order of time
    // One for each event; or none at all: no row.
    std::vector<NoteFingering> fingerings;
    // A second staff below (none or one), of as many measures as this one: the left hand of a keyboard.
    std::vector<WrittenMusic> lower;

    [[nodiscard]] std::span<const Event> events_of(const Measure& measure) const {
        return std::span{events}.subspan(measure.first_event, measure.event_count);
    }
    [[nodiscard]] std::span<const ChordMark> chords_of(const Measure& measure) const {
        return std::span{chords}.subspan(measure.first_chord, measure.chord_count);
    }
};

// The changes of a tune as a rhythm part: slashes under chord symbols, a line of them for each section. On
// paper only; as a file they are a lead sheet of their own.
struct RhythmPart {
    WrittenMusic music;
};

// A heading of the book: level 1 a tune, 2 a part of it.
struct Heading {
    int level = 1;
    std::string text;
};

// The head of a chord's section: everything in written pitch.
struct ChordHead {
    int number = 1;                     // "3" of the drills "3.1", "3.2"
    std::optional<ChordSymbol> symbol;  // nothing: a scale by itself
    std::string scale_name;             // "B altered"
    std::vector<PitchClass> notes;
    std::vector<std::string> degrees;
    std::string reason;
    std::string bars;       // "Bars 1, 5 to 8"
    bool is_listed = true;  // in the table of scales; not where a chord comes back
};

struct Text {
    std::string text;
};
// Rows under a heading, of which the first may name the columns.
struct Table {
    std::string title;
    std::vector<std::string> columns;
    std::vector<std::vector<std::string>> rows;
};
struct TickBoxes {
    std::vector<std::string> labels;
    std::vector<int> tempos = {};  // of those labels that say one, in beats a minute
};
struct PageBreak {};

using Block = std::variant<Heading, ChordHead, WrittenMusic, RhythmPart, Text, Table, TickBoxes, PageBreak>;

// What the whole document is; known before its first block.
struct DocumentHead {
    std::string title;
    std::string composer;
    std::string player;  // whose book it is; empty: a line to write on
    Instrument instrument;
    bool is_book = true;     // with title page, contents and log; else a sheet
    std::string range;       // "Bb3 to F#6", written
    std::string keys;        // "F major, written D major"
    std::string fingerings;  // "valves": what the row under the notes shows; empty: there is none
};

class BlockSink {
  public:
    virtual ~BlockSink() = default;
    virtual void begin(const DocumentHead& head) = 0;
    virtual void take(const Block& block) = 0;
    virtual void finish() = 0;
};

}  // namespace shedbook
