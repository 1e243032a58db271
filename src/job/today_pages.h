// The pieces of a day on paper.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/log/day_plan.h"
#include "shedbook/log/pages.h"
#include "today_offers.h"

namespace shedbook {

struct PagesOfDay {
    std::string title;
    std::string code;
    const std::vector<PlannedPiece>& pieces;
    const std::vector<Tune>& tunes;
    const std::vector<UnitOfTune>& units;
    const TuneBooks& books;
    const TonicsAsWritten& tonics;
    int level;
};

// Each item once, in the order of playing: as the book of the tune has it, else with boxes from the tempo to
// begin with up to the goal. What cannot be printed (a run through a tune that was not named) is said. The
// pieces as they were numbered.
PrintedPages assemble_day(const PagesOfDay& day, const std::vector<BookPart>& parts, std::size_t which,
                          BlockSink& sink, Diagnostics& diagnostics);

}  // namespace shedbook
