// The notes of a MusicXML part as they stand and as they sound: for measuring how hard it is, and for
// checking what was written.
//
//     auto score = read_score_notes("book.mxl", bytes, {}, diagnostics);
//     score->bars[0].notes[0].sounding;                        // with the part's transposition applied
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/time.h"
#include "shedbook/chart/readers.h"
#include "shedbook/theory/meter.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

struct ScoreNote {
    Position at;  // from the start of the bar
    Duration length;
    Pitch written;
    Pitch sounding;
    int staff = 1;
    bool shows_accidental = false;
    bool is_tied_from_before = false;
};

struct ScoreNotesBar {
    Meter meter;
    int key_fifths = 0;               // written
    bool starts_piece = false;        // a rehearsal mark, or the first bar of all
    std::vector<ScoreNote> notes;     // in order of time
    std::vector<std::string> chords;  // roots and kinds as the file names them
    std::vector<std::string> words;
};

struct ScoreNotes {
    std::string title;
    std::vector<ScoreNotesBar> bars;
};

// Sounding notes of one part, rests and grace notes left out. `bytes` is the file's content, packed or not.
[[nodiscard]] std::optional<ScoreNotes> read_score_notes(const std::string& file_name,
                                                         const std::string& bytes, const ReadOptions& options,
                                                         Diagnostics& diagnostics);

}  // namespace shedbook
