// The measures of a part put together: brackets over their bars, halves of bars joined, lengths judged, signs
// sorted out.
#pragma once

#include <vector>

#include "score_bar.h"
#include "score_messages.h"

namespace shedbook {

// In the order in which they must be done.
void spread_repeats_and_endings(std::vector<ScoreBar>& bars);
void sort_out_codas(std::vector<ScoreBar>& bars);
// Bars with nothing in them, or a rest that stands for all of it, are as long as the meter says. `in_force`
// is the meter before the first bar.
void fill_empty_bars(std::vector<ScoreBar>& bars, Meter in_force);
// Chords placed behind the end of their bar belong to the next.
void carry_late_chords(std::vector<ScoreBar>& bars, ScoreMessages& messages);
// Two short bars with a plain bar line between them, which together fill the meter, become one, with a
// message.
void join_halves(std::vector<ScoreBar>& bars, ScoreMessages& messages);
// The pickup, and bars that hold less or more than the meter says: kept, and said.
void judge_lengths(std::vector<ScoreBar>& bars, Meter in_force, ScoreMessages& messages);
// Bars under a repeat sign for bars, which have no chords of their own.
void mark_similes(std::vector<ScoreBar>& bars);

// All of it, and the bars into the sections of the chart, whose headers are there already. `bars` is not
// empty. False, with an error, where no way leads through the form.
[[nodiscard]] bool put_into_chart(std::vector<ScoreBar> bars, Chart& chart, ScoreMessages& messages);

}  // namespace shedbook
