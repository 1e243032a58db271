#include "shedbook/log/standing.h"

#include <algorithm>

namespace shedbook {
namespace {

struct Tries {
    int right = 0;
    int wrong = 0;
    [[nodiscard]] bool any() const { return right + wrong > 0; }
    [[nodiscard]] bool mostly_right() const { return any() && 4 * wrong <= right; }
};

Tries tries_of(const Entry& entry) {
    if (entry.right || entry.wrong) return {entry.right.value_or(0), entry.wrong.value_or(0)};
    return {entry.tempo ? 1 : 0, 0};
}

// Which entries make a day.
std::span<const Entry> day_from(std::span<const Entry> entries) {
    std::size_t count = 0;
    while (count < entries.size() && entries[count].day == entries.front().day) ++count;
    return entries.first(count);
}

int last_goal(std::span<const Entry> entries) {
    int out = 0;
    for (const Entry& entry : entries) out = entry.goal.value_or(out);
    return out;
}

bool is_at_goal(const Entry& entry, int goal) {
    return goal > 0 && is_clean(entry) && entry.tempo.value_or(0) >= goal;
}

// Step and due day after a day of practice.
void move_on(Standing& standing, Day day, DayResult result) {
    const int last_step = static_cast<int>(kGaps.size()) - 1;
    if (standing.days == 0) {
        standing.step = 0;
    } else if (result == DayResult::Poor) {
        standing.step = std::max(0, standing.step - 1);
    } else if (day < standing.due) {
        return;  // before its time: what is due stays due
    } else if (result == DayResult::Good) {
        standing.step = std::min(last_step, standing.step + 1);
    }
    standing.due = day_after(day, kGaps[static_cast<std::size_t>(standing.step)]);
}

Mastery state_of(const Standing& standing, bool was_at_tempo) {
    Mastery out = Mastery::Slow;
    if (was_at_tempo) out = Mastery::AtTempo;
    if (standing.memory_days > 0) out = Mastery::FromMemory;
    if (standing.memory_days >= kDaysToBeFluent) out = Mastery::Fluent;
    // Until it has been played clean again.
    if (standing.last_result == DayResult::Poor && out > Mastery::Slow)
        out = static_cast<Mastery>(static_cast<int>(out) - 1);
    return out;
}

}  // namespace

bool is_clean(const Entry& entry) {
    return tries_of(entry).mostly_right();
}

DayResult result_of(std::span<const Entry> day) {
    Tries sum;
    for (const Entry& entry : day) {
        const Tries tries = tries_of(entry);
        sum.right += tries.right;
        sum.wrong += tries.wrong;
    }
    if (!sum.any()) return DayResult::Unsaid;
    if (sum.mostly_right()) return DayResult::Good;
    return sum.wrong > sum.right ? DayResult::Poor : DayResult::Fair;
}

Standing standing_of(std::span<const Entry> entries) {
    Standing out;
    if (entries.empty()) return out;
    out.entries = static_cast<int>(entries.size());
    out.first = entries.front().day;
    out.goal = last_goal(entries);
    bool was_at_tempo = false;
    for (std::span<const Entry> rest = entries; !rest.empty();) {
        const std::span<const Entry> day = day_from(rest);
        rest = rest.subspan(day.size());
        const DayResult result = result_of(day);
        move_on(out, day.front().day, result);
        ++out.days;
        out.last = day.front().day;
        if (result != DayResult::Unsaid) out.last_result = result;
        int clean = 0;
        bool in_memory = false;
        for (const Entry& entry : day) {
            if (is_clean(entry)) clean = std::max(clean, entry.tempo.value_or(0));
            was_at_tempo = was_at_tempo || is_at_goal(entry, out.goal);
            in_memory = in_memory || (entry.from_memory && is_at_goal(entry, out.goal));
        }
        if (clean > 0) out.clean_tempo = clean;
        out.best_tempo = std::max(out.best_tempo, clean);
        out.memory_days += in_memory ? 1 : 0;
    }
    out.state = state_of(out, was_at_tempo);
    return out;
}

Day due_before_gig(const Standing& standing, Day today, std::optional<Day> gig) {
    if (!gig || *gig <= today) return standing.due;
    return std::min(standing.due, std::max(day_after(*gig, -1), day_after(standing.last, 1)));
}

}  // namespace shedbook
