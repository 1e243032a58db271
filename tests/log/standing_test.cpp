// The schedule and the states by the examples of docs/log.md; the numbers are common practice, no source.
#include "shedbook/log/standing.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

namespace shedbook {
namespace {

const Day kFirst = *parse_date("2026-01-01");

Entry played(int day, int right, int wrong, int tempo = 100, bool from_memory = false) {
    Entry out;
    out.day = day_after(kFirst, day);
    out.tempo = tempo;
    out.goal = 100;
    out.right = right;
    out.wrong = wrong;
    out.from_memory = from_memory;
    return out;
}

int due_in(const std::vector<Entry>& entries) {
    return days_between(kFirst, standing_of(entries).due);
}

}  // namespace

TEST_CASE("a scale that goes well comes back after 1, 3, 7, 14, 30 and 60 days", "[log]") {
    std::vector<Entry> entries{played(0, 4, 0)};
    std::vector<int> days{due_in(entries)};
    while (days.size() < 8) {
        entries.push_back(played(days.back(), 4, 1));
        days.push_back(due_in(entries));
    }
    CHECK(days == std::vector{1, 4, 11, 25, 55, 115, 175, 235});
}

TEST_CASE("after a poor day it comes back one step sooner, also when it was not due", "[log]") {
    // Good on days 0, 1 and 4: due on 11, after a gap of 7.
    const std::vector<Entry> good{played(0, 4, 0), played(1, 4, 0), played(4, 4, 0)};
    REQUIRE(due_in(good) == 11);
    std::vector<Entry> poor = good;
    poor.push_back(played(11, 1, 3));
    CHECK(due_in(poor) == 14);
    std::vector<Entry> early = good;
    early.push_back(played(6, 0, 2));
    CHECK(due_in(early) == 9);
    CHECK(due_in({played(0, 0, 3), played(1, 0, 3)}) == 2);
}

TEST_CASE("a fair day keeps the gap, and what goes well before it is due changes nothing", "[log]") {
    CHECK(due_in({played(0, 4, 0), played(1, 4, 0), played(4, 3, 2)}) == 7);
    CHECK(due_in({played(0, 4, 0), played(1, 4, 0), played(2, 4, 0), played(3, 4, 0)}) == 4);
    // Late: the gap counts from the day on which it was played.
    CHECK(due_in({played(0, 4, 0), played(10, 4, 0)}) == 13);
}

TEST_CASE("the entries of one day count together", "[log]") {
    const std::vector<Entry> day{played(0, 1, 2), played(0, 7, 0)};
    CHECK(result_of(day) == DayResult::Good);
    CHECK(standing_of(day).days == 1);
    CHECK(result_of(std::vector{played(0, 2, 3)}) == DayResult::Poor);
    CHECK(result_of(std::vector{played(0, 3, 3)}) == DayResult::Fair);
    Entry only_time;
    only_time.seconds = 300;
    CHECK(result_of(std::vector{only_time}) == DayResult::Unsaid);
    only_time.tempo = 80;
    CHECK(result_of(std::vector{only_time}) == DayResult::Good);
}

TEST_CASE("a scale is new, slow, at tempo, from memory and after three days fluent", "[log]") {
    std::vector<Entry> entries;
    CHECK(standing_of(entries).state == Mastery::New);
    entries.push_back(played(0, 4, 0, 80));
    CHECK(standing_of(entries).state == Mastery::Slow);
    entries.push_back(played(1, 4, 1, 100));
    CHECK(standing_of(entries).state == Mastery::AtTempo);
    entries.push_back(played(2, 4, 1, 96, true));
    CHECK(standing_of(entries).state == Mastery::AtTempo);
    entries.push_back(played(4, 4, 1, 100, true));
    CHECK(standing_of(entries).state == Mastery::FromMemory);
    entries.push_back(played(4, 5, 0, 104, true));
    CHECK(standing_of(entries).state == Mastery::FromMemory);
    entries.push_back(played(5, 5, 0, 104, true));
    entries.push_back(played(11, 5, 0, 100, true));
    CHECK(standing_of(entries).state == Mastery::Fluent);
    CHECK(standing_of(entries).best_tempo == 104);
}

TEST_CASE("three of four right is not clean at any tempo", "[log]") {
    CHECK(standing_of(std::vector{played(0, 3, 1)}).state == Mastery::Slow);
    CHECK(standing_of(std::vector{played(0, 0, 0)}).state == Mastery::Slow);
    CHECK(standing_of(std::vector{played(0, 4, 1)}).state == Mastery::AtTempo);
}

TEST_CASE("a poor day takes one state away until the next clean one", "[log]") {
    std::vector<Entry> entries{played(0, 4, 0, 100, true), played(1, 4, 0, 100, true),
                               played(4, 4, 0, 100, true)};
    REQUIRE(standing_of(entries).state == Mastery::Fluent);
    entries.push_back(played(11, 1, 4));
    CHECK(standing_of(entries).state == Mastery::FromMemory);
    entries.push_back(played(14, 4, 0, 80));
    CHECK(standing_of(entries).state == Mastery::Fluent);
}

TEST_CASE("a higher goal asks for the tempo again", "[log]") {
    std::vector<Entry> entries{played(0, 4, 0)};
    REQUIRE(standing_of(entries).state == Mastery::AtTempo);
    entries.push_back(played(1, 4, 0));
    entries.back().goal = 120;
    CHECK(standing_of(entries).state == Mastery::Slow);
}

TEST_CASE("with a gig ahead nothing waits beyond the day before it", "[log]") {
    const Standing standing = standing_of(
        std::vector{played(0, 4, 0), played(1, 4, 0), played(4, 4, 0), played(11, 4, 0), played(25, 4, 0)});
    REQUIRE(days_between(kFirst, standing.due) == 55);
    const Day today = day_after(kFirst, 30);
    CHECK(due_before_gig(standing, today, std::nullopt) == day_after(kFirst, 55));
    CHECK(due_before_gig(standing, today, day_after(kFirst, 40)) == day_after(kFirst, 39));
    CHECK(due_before_gig(standing, today, day_after(kFirst, 90)) == day_after(kFirst, 55));
    CHECK(due_before_gig(standing, today, day_after(kFirst, 20)) == day_after(kFirst, 55));
}

}  // namespace shedbook
