// An analysis as text: JSON lines for programs, a table for a terminal, and a single chord explained.
//
//     changes_table(chart, analyse(chart, timeline));               // "A\n  C major\n    1  Dm7 ..."
//     chord_json("Db7#11").ok;                                      // true
//     explain_chord(*parse_chord_symbol("Db7#11"));                 // "Db7#11: Db F Ab Cb G ..."
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "shedbook/chart/chart.h"
#include "shedbook/harmony/analysis.h"
#include "shedbook/harmony/units.h"
#include "shedbook/io/data.h"

namespace shedbook {

// An object for each written chord symbol, and one for the tune. Pitch classes are 0 to 11 from C; bars count
// from 1, beats in units of the meter from 1.
struct ChangesData {
    std::vector<Data::Object> chords;
    Data::Object tune;
};
[[nodiscard]] ChangesData changes_data(const Chart& chart, const Analysis& analysis);
// The same as a part reads it that stands `by` over what sounds: its chords, and its home key.
struct ChangesAsRead {
    std::vector<Data::Object> chords;
    Data home;
};
[[nodiscard]] ChangesAsRead changes_as_read(const Chart& chart, const Analysis& analysis, Interval by);
// What sounds, a line for each.
void write_changes_json(const Chart& chart, const Analysis& analysis, std::ostream& out);

struct TableOptions {
    bool why = false;  // a line with the reason under each chord
    int width = 80;    // columns; no line is longer
    SymbolStyle symbols = {};
};
[[nodiscard]] std::string changes_table(const Chart& chart, const Analysis& analysis,
                                        const TableOptions& options = {});

// The practice units of a tune, a line each with its places, how hard it is and why; and its bars, the
// hardest first.
[[nodiscard]] std::string units_table(const TuneUnits& units);
[[nodiscard]] std::string difficulty_table(const TuneUnits& units);

// What `chord --json` prints for one line of input, without its line end; the whole line is one symbol. Not
// ok: it could not be read, and the line says why and where.
struct ChordLine {
    bool ok = false;
    std::string json;
};
[[nodiscard]] ChordLine chord_json(const std::string& input);

// A chord for a player: its notes, the scale to play first and why, what else fits, notes to pass over
// lightly.
[[nodiscard]] std::string explain_chord(const ChordSymbol& symbol);

}  // namespace shedbook
