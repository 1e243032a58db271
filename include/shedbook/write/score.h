// A score: the same music for several instruments, each with its own transposition and clef, bar under bar.
//
//     Score score{.title = "Blue Door", .parts = {{*alto, alto_blocks}, {*trumpet, trumpet_blocks}}};
//     write_score("class.mxl", score, {});
//
// Words and numbers over the music are those of the first part's blocks; of the other parts' blocks leave
// them out, or they are printed again over each staff.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "shedbook/notation/document.h"
#include "shedbook/write/writers.h"

namespace shedbook {

struct PartOfScore {
    Instrument instrument;
    std::vector<Block> blocks;  // in every part as many pieces, with as many bars
};

struct Score {
    std::string title;
    std::string composer;
    std::vector<PartOfScore> parts;
};

// Breaks the lines and pages of all parts at the same bars.
void break_lines(Score& score);

// MusicXML text of a score whose lines are broken.
void write_score_text(const Score& score, std::ostream& out);

// By its ending .mxl, .pdf or .ly, else as MusicXML. The file appears whole or not at all.
void write_score(const std::string& path, Score score, const WriteOptions& options);

}  // namespace shedbook
