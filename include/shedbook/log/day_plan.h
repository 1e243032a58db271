// What to practise today: what comes back, the hardest unit that is not fluent, one new thing, a run through
// the form, in the minutes there are. docs/log.md has the rules. The same wishes make the same plan.
//
//     DayPlan plan = plan_day(wishes);
//     plan.pieces.front().minutes;                             // 3
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/log/log_book.h"

namespace shedbook {

// Something that could be played today, of which the log may know nothing.
struct Offer {
    Item item;
    int goal = 0;     // the tempo to arrive at; 0: not known
    std::string why;  // half a line; may be empty
    friend bool operator==(const Offer&, const Offer&) = default;
};

struct DayWishes {
    Day today;
    int minutes = 30;
    int level = 3;  // 1 to 6: from 3 on things are mixed
    std::optional<Day> gig;
    std::vector<Item> for_gig;  // what it needs; empty: all
    std::uint64_t seed = 1;
    std::vector<KnownItem> known;           // all that can be played today of what the log knows
    std::vector<std::vector<Offer>> units;  // of the tune, the hardest first, each with its lines in order
    std::vector<Offer> fresh;               // new things in the order in which they are to come
    std::vector<Offer> forms;               // a run through each tune
};
inline constexpr int kFewestMinutes = 5;
inline constexpr int kMostMinutes = 480;
inline constexpr int kLevelThatMixes = 3;

// Back: it was due. Unit: the hardest that is not fluent. Again: not due, and not yet at tempo.
enum class PieceOfDay { Back, Unit, New, Again, Form, Break };
template <>
inline constexpr Worded<PieceOfDay> kWords<PieceOfDay>[] = {
    {PieceOfDay::Back, "back"},   {PieceOfDay::Unit, "unit"}, {PieceOfDay::New, "new"},
    {PieceOfDay::Again, "again"}, {PieceOfDay::Form, "form"}, {PieceOfDay::Break, "break"}};

// Tempos in beats a minute; all 0 where none is known.
struct TempoSteps {
    int start = 0;
    int step = 0;
    int goal = 0;
    friend bool operator==(const TempoSteps&, const TempoSteps&) = default;
};

struct PlannedPiece {
    PieceOfDay what = PieceOfDay::Back;
    Item item;  // of a break nothing
    int minutes = 0;
    TempoSteps tempo;
    std::string why;  // half a line
};

struct DayPlan {
    std::vector<PlannedPiece> pieces;  // in the order of playing; with mixing, an item may come twice
    int waiting = 0;                   // items that are due and have no room today
    [[nodiscard]] int minutes() const;
};

[[nodiscard]] DayPlan plan_day(const DayWishes& wishes);

// From where the log left it, or else from three fifths of the goal, up to the goal in steps of at least four
// (a saxophone studio article of S. Ebeling goes up by four).
[[nodiscard]] TempoSteps tempo_steps(const Standing& standing, int goal);
// The same of a piece with boxes, rising: the last of them is the goal, and what was never clean begins at
// the first. Without boxes nothing is known.
[[nodiscard]] TempoSteps tempo_steps(const Standing& standing, const std::vector<int>& boxes);

}  // namespace shedbook
