// What a tune says, as it stands on paper: sections of bars with chords in their places, repeats kept. All
// pitches are concert pitch; readers of transposed parts bring them there.
//
//     auto chart = read_tune(SourceText{"a.tune", "Title: Two bars\n| Dm7 G7 | Cmaj7 |\n"}, diagnostics);
//     chart->sections[0].bars[0].chords.size();                // 2
//     order_of_play(*chart, diagnostics);                      // {0, 1}
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/base/source_text.h"
#include "shedbook/base/time.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/form_sign.h"
#include "shedbook/theory/key.h"
#include "shedbook/theory/meter.h"
#include "shedbook/theory/pitch.h"
#include "shedbook/theory/scale.h"

namespace shedbook {

// A chord, or a no-chord, written at a place in a bar.
struct PlacedChord {
    Position at;                            // from the start of the bar
    std::optional<ChordSymbol> symbol;      // nothing: "no chord"
    Duration push = {};                     // how much earlier than `at` it is struck; nothing or an eighth
    bool is_optional = false;               // written in brackets: a player may leave it out
    std::optional<Scale> fixed_scale = {};  // the chart says which scale to take
    std::string text = {};                  // the symbol as it was typed
    Span where = {};
};

// A kept melody note; pitch is nothing for a rest.
struct MelodyNote {
    Position at;  // from the start of the bar
    Duration length;
    std::optional<Pitch> pitch;
    bool is_tied_on = false;  // goes on into the next note
};

// The form at a bar: repeats, endings and signs.
struct BarMarks {
    bool repeat_start = false;  // at its left
    int repeat_end = 0;  // at its right: how often the passage is played in all (2 the usual); 0: no sign
    std::vector<int> endings = {};  // numbers of the bracket the bar lies under, rising; empty: none
    bool ending_start = false;      // the bracket opens here
    SignSet signs = {};
    bool double_bar = false;  // at its right
};

// The numbers of the bracket that the bar lies under: "1", "1, 2"; empty: it lies under none.
[[nodiscard]] std::string numbers_of_ending(const BarMarks& marks);

struct Bar {
    std::optional<Meter> meter = {};  // where it changes
    bool is_pickup = false;           // short, before the first full bar
    std::optional<Duration> length =
        {};  // where it is not what the meter says (short or over-full bars of a file)
    std::vector<PlacedChord> chords = {};  // in order of place; none: the chord before goes on
    BarMarks marks = {};
    std::vector<MelodyNote> melody = {};
    Span where = {};
    // A repeat sign instead of chords: 1 plays the bar before again (%); 2 stands on both bars of a two-bar
    // sign (%%) and plays the bar two before it.
    int simile = 0;
    std::optional<Key> key = {};             // where the signature changes
    std::vector<std::string> comments = {};  // lines of comment above it
    std::string remark = {};                 // comment beside it, at the end of its line
};

struct Section {
    std::string label;
    std::vector<Bar> bars;
    std::vector<std::string> comments = {};  // lines of comment above the label
    std::string remark = {};                 // comment beside the label
};

struct Chart {
    std::string id = {};  // short name for tables and JSON: the file's stem
    std::string title = {};
    std::string composer = {};
    std::optional<Key> key = {};
    std::optional<Meter> meter =
        {};  // nothing: the chart does not say; readers of it take 4/4 and the book says so
    std::optional<int> tempo = {};  // beats of the meter a minute
    std::string feel = {};          // words as written: "swing", "slow bossa"
    std::string written_for = {};   // an instrument id: the chart is still in that instrument's written pitch
    std::vector<Section> sections = {};
    bool key_is_signature_only =
        false;  // the source has accidentals but no word on the mode: a hint to harmony
    std::vector<std::pair<std::string, std::string>> other_headers = {};  // name and text, kept as they are
    std::vector<std::string> comments = {};                               // at the top
    std::vector<std::string> closing_comments = {};                       // below the last bar

    // What people call it: the title, else the id, else "this tune".
    [[nodiscard]] std::string name() const;
};

// One time through everything that is written, bar after bar.
struct WrittenBar {
    const Section* section;
    const Bar* bar;
    Meter meter;  // in force here
    Duration length;
    int index;  // written bars from 0, a pickup included
};
[[nodiscard]] std::vector<WrittenBar> written_bars(const Chart& chart);
// What pages count the first bar as: a pickup is bar 0.
[[nodiscard]] int first_bar_number(const Chart& chart);

// Everything moved by an interval: key, symbols, fixed scales, melody.
[[nodiscard]] Chart transposed(const Chart& chart, Interval by);

}  // namespace shedbook
