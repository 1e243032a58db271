// What a run over a class tells at its end.
#pragma once

#include <iosfwd>
#include <vector>

#include "shedbook/job/jobs.h"

namespace shedbook {

// The rows in columns; below, what was left out, each reason once, with the chords and the people it
// concerns.
void write_summary(const std::vector<ClassRow>& rows, std::ostream& out);

}  // namespace shedbook
