// What a day holds, by docs/log.md; the minutes and shares are common practice, no source.
#include "shedbook/log/day_plan.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

namespace shedbook {
namespace {

const Day kToday = *parse_date("2026-11-29");

Item scale(const std::string& subject, int root, const std::string& drill = "thirds") {
    return {ItemKind::Scale, subject, root, drill, "alto-sax"};
}

KnownItem known(const Item& item, int due_in, int step = 2, Mastery state = Mastery::AtTempo) {
    KnownItem out;
    out.item = item;
    out.standing.state = state;
    out.standing.step = step;
    out.standing.due = day_after(kToday, due_in);
    out.standing.last = day_after(kToday, due_in - kGaps[static_cast<std::size_t>(step)]);
    out.standing.goal = 120;
    out.standing.clean_tempo = 100;
    out.standing.entries = out.standing.days = 3;
    return out;
}

std::vector<Offer> fresh_things() {
    std::vector<Offer> out;
    for (int root = 0; root < 12; ++root) {
        for (const char* drill : {"range-scale", "thirds", "triads", "sevenths"})
            out.push_back({scale("major", root, drill), 100, "of this level"});
    }
    return out;
}

DayWishes wishes_with_tune(int minutes) {
    DayWishes out;
    out.today = kToday;
    out.minutes = minutes;
    for (const char* unit : {"ii-v-i", "turnaround"}) {
        std::vector<Offer>& lines = out.units.emplace_back();
        for (const char* line : {"guide-tones", "unbroken-scale"})
            lines.push_back({{ItemKind::Unit, unit, 5, line, "alto-sax"}, 100, "the hardest"});
    }
    out.forms.push_back(
        {{ItemKind::Etude, "goat-path", kNoRoot, "guide-tones", "alto-sax"}, 120, "the form"});
    out.fresh = fresh_things();
    return out;
}

int count(const DayPlan& plan, PieceOfDay what) {
    return static_cast<int>(std::ranges::count(plan.pieces, what, &PlannedPiece::what));
}

std::string text_of(const DayPlan& plan) {
    std::string out;
    for (const PlannedPiece& piece : plan.pieces)
        out += std::string{to_word(piece.what)} + " " + piece.item.subject + " " + piece.item.work + " " +
               std::to_string(piece.item.root) + " " + std::to_string(piece.minutes) + "\n";
    return out;
}

}  // namespace

TEST_CASE("whatever is known, a day has the minutes asked for", "[log]") {
    for (const bool has_tune : {false, true}) {
        for (const int due : {0, 1, 5, 80}) {
            for (int minutes = kFewestMinutes; minutes <= 240; ++minutes) {
                DayWishes wishes = wishes_with_tune(minutes);
                if (!has_tune) wishes.units.clear();
                if (!has_tune) wishes.forms.clear();
                for (int i = 0; i < due; ++i)
                    wishes.known.push_back(
                        known(scale("dorian", i % 12, "drill-" + std::to_string(i)), -i % 9));
                INFO(minutes << " minutes, " << due << " due");
                CHECK(plan_day(wishes).minutes() == minutes);
            }
        }
    }
}

TEST_CASE("a day has what comes back, the hardest unit, one new thing and the form, which is last", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    wishes.level = 1;
    wishes.known = {known(scale("dorian", 2), 0), known(scale("mixolydian", 7), -2),
                    known(scale("altered", 7), 5)};
    const DayPlan plan = plan_day(wishes);
    INFO(text_of(plan));
    CHECK(count(plan, PieceOfDay::Back) == 2);
    CHECK(plan.pieces[0].item == scale("mixolydian", 7));
    CHECK(plan.pieces[0].why == "due 2 days ago, last played 9 days ago");
    CHECK(plan.pieces[1].why == "comes back after 7 days");
    CHECK(count(plan, PieceOfDay::New) >= 1);
    CHECK(plan.pieces.back().what == PieceOfDay::Form);
    const auto unit = std::ranges::find(plan.pieces, PieceOfDay::Unit, &PlannedPiece::what);
    REQUIRE(unit != plan.pieces.end());
    CHECK(unit->item.subject == "ii-v-i");
    CHECK(unit->item.work == "guide-tones");
    CHECK(plan.waiting == 0);
}

TEST_CASE("a unit gives way to the next one when all its lines are fluent", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    for (const Offer& line : wishes.units[0])
        wishes.known.push_back(known(line.item, 20, 4, Mastery::Fluent));
    const DayPlan plan = plan_day(wishes);
    const auto unit = std::ranges::find(plan.pieces, PieceOfDay::Unit, &PlannedPiece::what);
    REQUIRE(unit != plan.pieces.end());
    CHECK(unit->item.subject == "turnaround");
}

TEST_CASE("a line from memory waits for its day, and the next line is worked on meanwhile", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    wishes.known = {known(wishes.units[0][0].item, 2, 1, Mastery::FromMemory)};
    const auto unit_line = [&] {
        const DayPlan plan = plan_day(wishes);
        const auto unit = std::ranges::find(plan.pieces, PieceOfDay::Unit, &PlannedPiece::what);
        return unit == plan.pieces.end() ? "" : unit->item.subject + " " + unit->item.work;
    };
    CHECK(unit_line() == "ii-v-i unbroken-scale");
    wishes.known[0].standing.state = Mastery::AtTempo;
    CHECK(unit_line() == "ii-v-i guide-tones");
    wishes.known[0].standing.state = Mastery::FromMemory;
    wishes.known[0].standing.due = kToday;
    CHECK(unit_line() == "ii-v-i guide-tones");
}

TEST_CASE("nothing new is begun while what is due does not fit", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    for (int i = 0; i < 40; ++i)
        wishes.known.push_back(known(scale("dorian", i % 12, std::to_string(i)), -60, 1));
    const DayPlan plan = plan_day(wishes);
    INFO(text_of(plan));
    CHECK(count(plan, PieceOfDay::New) == 0);
    CHECK(count(plan, PieceOfDay::Back) >= 4);
    CHECK(plan.waiting == 40 - count(plan, PieceOfDay::Back));
}

TEST_CASE("what waits comes before anything new, also where little comes back in the long run", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    for (int i = 0; i < 12; ++i) wishes.known.push_back(known(scale("dorian", i, std::to_string(i)), -3, 5));
    const DayPlan plan = plan_day(wishes);
    INFO(text_of(plan));
    CHECK(plan.waiting > 0);
    CHECK(count(plan, PieceOfDay::New) == 0);
}

TEST_CASE("from level 3 on long pieces come twice and no scale follows itself", "[log]") {
    DayWishes wishes = wishes_with_tune(45);
    for (int i = 0; i < 6; ++i) wishes.known.push_back(known(scale("dorian", i / 3, std::to_string(i)), -1));
    const DayPlan plan = plan_day(wishes);
    INFO(text_of(plan));
    for (std::size_t i = 1; i < plan.pieces.size(); ++i) {
        if (plan.pieces[i].what != PieceOfDay::Break) CHECK(plan.pieces[i].item != plan.pieces[i - 1].item);
    }
    CHECK(std::ranges::count_if(plan.pieces, [&](const PlannedPiece& piece) {
              return piece.item == wishes.units[0][0].item;
          }) == 2);
    wishes.level = 2;
    const DayPlan blocked = plan_day(wishes);
    CHECK(std::ranges::count_if(blocked.pieces, [&](const PlannedPiece& piece) {
              return piece.item == wishes.units[0][0].item;
          }) == 1);
}

TEST_CASE("with a gig tomorrow what it needs comes back today", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    wishes.known = {known(scale("dorian", 2), 20, 4), known(scale("altered", 7), 20, 4)};
    CHECK(count(plan_day(wishes), PieceOfDay::Back) == 0);
    wishes.gig = day_after(kToday, 1);
    wishes.for_gig = {scale("dorian", 2)};
    const DayPlan plan = plan_day(wishes);
    INFO(text_of(plan));
    REQUIRE(count(plan, PieceOfDay::Back) == 1);
    const auto back = std::ranges::find(plan.pieces, PieceOfDay::Back, &PlannedPiece::what);
    CHECK(back->item == scale("dorian", 2));
}

TEST_CASE("the same wishes make the same day, another seed another one", "[log]") {
    DayWishes wishes = wishes_with_tune(30);
    for (int i = 0; i < 40; ++i)
        wishes.known.push_back(known(scale("dorian", i % 12, std::to_string(i)), -3));
    const std::string first = text_of(plan_day(wishes));
    CHECK(text_of(plan_day(wishes)) == first);
    wishes.seed = 2;
    CHECK(text_of(plan_day(wishes)) != first);
}

TEST_CASE("breaks lie between pieces, none in a quarter of an hour", "[log]") {
    CHECK(count(plan_day(wishes_with_tune(15)), PieceOfDay::Break) == 0);
    CHECK(count(plan_day(wishes_with_tune(30)), PieceOfDay::Break) == 1);
    const DayPlan plan = plan_day(wishes_with_tune(90));
    CHECK(count(plan, PieceOfDay::Break) == 3);
    CHECK(plan.pieces.front().what != PieceOfDay::Break);
    CHECK(plan.pieces.back().what != PieceOfDay::Break);
}

TEST_CASE("tempos start where the log left off, in steps of four or more", "[log]") {
    Standing standing;
    CHECK(tempo_steps(standing, 120) == TempoSteps{72, 8, 120});
    CHECK(tempo_steps(standing, 0) == TempoSteps{});
    standing.clean_tempo = 100;
    standing.last_result = DayResult::Good;
    CHECK(tempo_steps(standing, 120) == TempoSteps{92, 8, 120});
    standing.last_result = DayResult::Poor;
    CHECK(tempo_steps(standing, 120) == TempoSteps{84, 8, 120});
    standing.clean_tempo = 200;
    CHECK(tempo_steps(standing, 80) == TempoSteps{80, 4, 80});
    CHECK(tempo_steps(standing, 36) == TempoSteps{36, 4, 36});
}

TEST_CASE("a piece with boxes begins at the first of them, and a step below what was last clean", "[log]") {
    const std::vector<int> boxes{86, 115, 144};
    CHECK(tempo_steps(Standing{}, boxes) == TempoSteps{86, 8, 144});
    Standing standing;
    standing.entries = 1;
    standing.clean_tempo = 115;
    CHECK(tempo_steps(standing, boxes) == TempoSteps{107, 8, 144});
    CHECK(tempo_steps(Standing{}, std::vector<int>{}) == TempoSteps{});
}

}  // namespace shedbook
