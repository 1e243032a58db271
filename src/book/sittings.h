// The sittings of a plan over the topics of one tune: which chords each takes, and what is done with them.
#pragma once

#include <string>
#include <vector>

#include "drill_section.h"
#include "shedbook/book/plan.h"

namespace shedbook {

struct PlannedSitting {
    const Sitting* sitting = nullptr;
    SittingStart start;
    std::vector<SectionTopic> topics;
    SectionWork work;
    int first_round = 0;  // number of its first round, where it is mixed
};

// The topics are in the order of the tune, and so they are in each sitting; where a sitting takes only some,
// those that sound longest.
[[nodiscard]] std::vector<PlannedSitting> plan_sittings(const BookPlan& plan,
                                                        const std::vector<SectionTopic>& topics,
                                                        const BookOptions& options);

// The sitting's own drills, or those of the book.
[[nodiscard]] std::vector<const DrillTemplate*> drills_of(const Sitting& sitting, const BookOptions& options);

// The plan of a book for which none was asked: everything in one sitting.
[[nodiscard]] BookPlan plain_plan(const BookOptions& options);

// What stands in the book about its sittings, each with its chords as the part reads them.
[[nodiscard]] PlanTable table_of(const BookPlan& plan, const std::vector<PlannedSitting>& sittings,
                                 const Instrument& instrument, Prefer prefer);

// A box for each of these parts of the goal, the number of a metronome below it, and one more.
[[nodiscard]] TempoBoxes boxes_at(const std::vector<int>& per_cent, int goal_tempo);

}  // namespace shedbook
