// A document on its way to paper, screen or sound: a sequence of blocks, each of which says what it is and
// carries what any writer needs. Nothing is guessed from an empty title, and nothing is read back from words.
//
//     sink.begin({.title = "Blue Door", .parts = {*find_instrument("alto-sax")}});
//     sink.take(SectionStart{...}); sink.take(Drill{...}); sink.take(SectionEnd{});
//     sink.finish();
//
// Parts: most documents have one. A score has several: then each piece has music for each of them, in their
// order and bar under bar.
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "shedbook/base/grade.h"
#include "shedbook/notation/instrument.h"
#include "shedbook/notation/written_music.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/scale.h"

namespace shedbook {

// What the whole document is; known before its first block.
struct DocumentHead {
    std::string title;
    std::string composer;
    std::vector<Instrument> parts;
    // Short and made from what the document is asked to hold: the same book has the same code. May be empty.
    std::string code;
};

// "2.3", or "7" for what is a section by itself.
struct PieceNumber {
    int section = 0;
    int piece = 0;  // within its section, from 1; 0: the section is this piece
    friend auto operator<=>(const PieceNumber&, const PieceNumber&) = default;
};

// What a piece is on, as it sounds: the same for every instrument, tune and book.
struct Topic {
    std::optional<ChordSymbol> symbol;  // nothing: a scale by itself
    Scale scale;
};
// The same as a part reads it.
struct TopicInPart {
    std::optional<ChordSymbol> symbol;
    Scale scale;
    std::vector<PitchClass> notes;  // of the scale, spelled
};

struct TuneName {
    std::string id;     // the file's stem
    std::string title;  // never empty
};

// Boxes to tick: one for each tempo, and one for playing it from memory.
struct TempoBoxes {
    std::vector<int> tempos;  // in beats of the piece's meter a minute, rising
    bool from_memory = false;
    [[nodiscard]] bool empty() const { return tempos.empty() && !from_memory; }
    friend bool operator==(const TempoBoxes&, const TempoBoxes&) = default;
};

// --- Around the music.

// The first page of a book; a sheet has none.
struct Cover {
    std::string player;  // whose book it is; empty: a line to write on
    WrittenRange range;
    std::optional<Key> sounding_key;  // of the one tune
    std::optional<Key> written_key;
    std::string fingerings;  // "valves": what the row under the notes shows; empty: there is none
};

// General advice on playing without harm.
struct Caution {
    std::string text;
};

// A sitting of a plan: an evening's half hour, or a week. It has an end.
struct SittingStart {
    std::string title;    // "Week 1"
    std::string subject;  // "the basic chords"; may be empty
    std::string advice;   // may be empty
};
struct SittingEnd {};

// A page to write down what was practised.
struct LogPage {};

// --- What encloses pieces; each start has its end.

// A tune of the book.
struct ChapterStart {
    TuneName tune;
    int number = 1;
    int chapters = 1;  // of the whole document
};
struct ChapterEnd {};

// The whole drills of pages to play from memory, under their numbers.
struct AnswersStart {};
struct AnswersEnd {};

// Drills on one chord or scale.
struct TopicHead {
    Topic topic;
    std::vector<TopicInPart> parts;
    std::vector<std::string> degrees;  // of the scale
    std::string reason;                // in words, in the first part's written pitch; may be empty
    bool reason_tells_bars = false;    // all of them, by what it is the reason for
    std::vector<int> bars;             // of the tune where it stands, as pages count; may be empty
    std::vector<TopicInPart> shares;   // others with the same notes, as the first part reads them
    bool is_from_memory = false;       // its notes, degrees and reason are not to be seen here
};
// Bars of the tune that are practised as one: a cadence, a turnaround.
struct UnitHead {
    struct Place {
        Key key;            // as the first part reads it
        int first_bar = 1;  // written, both ends in; 0: of no tune
        int last_bar = 1;
        std::optional<std::pair<int, int>> skips = {};  // bars of another ending between them
        PitchClass tonic = {};                          // of the key as it sounds
        std::optional<Key> named_in = {};  // as read, the key that the name counts in, if another
        friend bool operator==(const Place&, const Place&) = default;
    };
    std::string name;           // as a musician says it: "ii-V-I"
    std::vector<Place> places;  // the first is the one that is drilled
    Grade grade = Grade::Easy;  // of that one
    std::string why;            // it is hard; may be empty
    std::string kind = {};      // as docs/units.md lists them: "ii-V-I"
    std::string here = {};      // what its chords are, if not what the name says: "ii7/bII-bVI7 in F major"
    int again = 0;              // the section of a plan that had this unit first; 0: this one
};
// A plan and what its sittings hold.
struct PlanTable {
    struct Row {
        SittingStart sitting;
        std::vector<UnitHead> units;      // of a book by units
        std::vector<TopicInPart> topics;  // none: neither chords nor drills
        std::vector<std::string> drills;  // their titles
        TempoBoxes boxes;
    };
    std::string title;
    std::vector<Row> rows;
};

// Another chord and another drill every time.
struct RoundHead {
    int round = 1;
};
struct SectionStart {
    int number = 1;  // "3" of the drills "3.1", "3.2"
    std::variant<TopicHead, RoundHead, UnitHead> head;
};
struct SectionEnd {};

// --- Pieces. `music`: one for each part of the document.

// How a drill differs from what its title says.
struct DrillRemark {
    struct Octave {
        int position = 0;  // 0 the lowest
        int positions = 1;
    };
    std::string what;              // "from the 5th, shortened"; may be empty
    std::string why;               // "to stay in range"
    std::optional<Octave> octave;  // which of those that the range has room for
};

struct Drill {
    PieceNumber number;
    std::string id;     // of its template
    std::string title;  // "In thirds"
    DrillRemark remark;
    Topic topic;
    // In a round, where no head names it: the topic as the first part reads it.
    std::optional<TopicInPart> named;
    TempoBoxes boxes;
    std::vector<WrittenMusic> music;
};

// A line through the changes of a tune: a section by itself, or in that of a unit.
struct Etude {
    struct Made {
        int level = 1;
        std::uint64_t seed = 1;
        int choruses = 1;
    };
    PieceNumber number;
    std::string id;     // of its kind
    std::string title;  // of its kind: "Guide-tone line"
    TuneName tune;
    std::string composer;                  // of the tune, on a sheet of its own; may be empty
    std::optional<Made> made;              // how another one like it is got
    std::optional<UnitHead::Place> place;  // of a unit, where it is not the one at its head
    TempoBoxes boxes;
    std::vector<WrittenMusic> music;
};

// The changes of a tune as a rhythm part: slashes under chord symbols, a line of them for each section.
struct Changes {
    TuneName tune;
    std::vector<WrittenMusic> music;
};

// The bars of a unit as the tune has them, with the way in and out, as a rhythm part.
struct UnitBars {
    std::vector<WrittenMusic> music;
};

// The changes as a document of their own, with the melody where there is one.
struct LeadSheet {
    std::vector<WrittenMusic> music;
};

// Where a tune is hard, and what the book has on it.
struct TuneOverview {
    struct Bar {
        int number = 1;  // as pages count: a pickup is bar 0
        Grade grade = Grade::Easy;
        bool repeat_start = false;
        bool repeat_end = false;
        std::string ending = {};    // "1", "1, 2": its bracket begins here
        bool under_ending = false;  // the bracket lies over this bar
    };
    struct Section {
        std::string label;  // may be empty
        std::vector<Bar> bars;
    };
    struct Row {
        int section = 0;  // its number; 0: it stands in the changes only
        UnitHead unit;
    };
    std::vector<Section> sections;
    std::vector<std::string> played;  // labels of the sections in order of play; may be empty
    bool easiest_first = false;       // for who begins; else the hardest
    int played_bars = 0;              // without a pickup
    std::vector<Row> units;           // those with pages first, in their order
};

// Which scale on which chord.
struct ScaleTable {
    struct Row {
        int section = 0;  // its number, or that of the scale with the same notes
        TopicInPart topic;
        std::string reason;
        std::vector<int> bars = {};            // of the tune where it stands; may be empty
        std::optional<Scale> drilled_as = {};  // the scale with the same notes that its section begins on
    };
    std::vector<Row> rows;
};

using Block = std::variant<Cover, Caution, PlanTable, LogPage, ChapterStart, ChapterEnd, SittingStart,
                           SittingEnd, AnswersStart, AnswersEnd, SectionStart, SectionEnd, Drill, Etude,
                           Changes, UnitBars, LeadSheet, TuneOverview, ScaleTable>;

class BlockSink {
  public:
    virtual ~BlockSink() = default;
    virtual void begin(const DocumentHead& head) = 0;
    virtual void take(const Block& block) = 0;
    virtual void finish() = 0;
};

}  // namespace shedbook
