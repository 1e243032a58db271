// One tune in a book: its changes, the table of its scales, then the sittings of the plan, then what was left
// out for the memory.
#pragma once

#include <vector>

#include "drill_section.h"
#include "shedbook/book/plan.h"
#include "sittings.h"

namespace shedbook {

// The changes with names and signature as in all the chapter, also where the chart says no key.
[[nodiscard]] Changes changes_of(const Tune& tune, const Ensemble& ensemble, Prefer prefer);

// Of an etude for which the range is too narrow.
void say_missing(const EtudeKind& kind, const Tune& tune, Diagnostics& diagnostics);

class TuneChapter {
  public:
    // Everything but the plan is kept by reference.
    TuneChapter(const Tune& tune, Ensemble ensemble, const BookPlan& plan, const BookOptions& options,
                Diagnostics& diagnostics);

    [[nodiscard]] PlanTable table() const;
    // `number`: of the last section before it, and then of its own last one. Into the same sink as the
    // sections.
    void write(DrillSectionMaker& sections, BlockSink& sink, int& number);

  private:
    // Makes the etudes and gives every section its number.
    void number_sections(int& number);
    [[nodiscard]] std::optional<Etude> etude_of(const std::string& kind, const PlannedSitting& sitting) const;
    [[nodiscard]] ScaleTable scale_table() const;
    void write_sections(const PlannedSitting& sitting, DrillSectionMaker& sections) const;
    void write_answers(DrillSectionMaker& sections, BlockSink& sink) const;

    const Tune* tune_;
    Ensemble ensemble_;
    const BookPlan* plan_;
    const BookOptions* options_;
    Diagnostics* diagnostics_;
    std::vector<PlannedSitting> sittings_;
    std::vector<std::vector<Etude>> etudes_;  // of each sitting
};

}  // namespace shedbook
