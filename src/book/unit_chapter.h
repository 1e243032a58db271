// A tune in a book by units: its changes, the table of all its scales, its units from the hardest on, the
// sets of notes that its scales share, and the whole form in lines.
#pragma once

#include <vector>

#include "drill_section.h"

namespace shedbook {

// The chapters of all tunes. Units and chords that have no section are said.
void write_unit_chapters(const std::vector<Tune>& tunes, const Ensemble& ensemble, const BookOptions& options,
                         BlockSink& sink, Diagnostics& diagnostics);

}  // namespace shedbook
