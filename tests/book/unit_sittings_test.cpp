// Plans on units: which unit has its turn when.
#include "../../src/book/unit_sittings.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <set>

#include "recording_sink.h"
#include "shedbook/book/book.h"
#include "shedbook/io/files.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

Sitting on(Sitting::Units which, int most = 0) {
    Sitting out;
    out.title = "S";
    out.units = which;
    out.most_units = most;
    return out;
}

using Turns = std::vector<std::vector<std::size_t>>;

}  // namespace

TEST_CASE("sittings that take the next units and no number share what there is, the hardest first",
          "[book]") {
    BookPlan plan;
    plan.sittings = {on(Sitting::Units::Next), on(Sitting::Units::Next), on(Sitting::Units::Same),
                     on(Sitting::Units::None), on(Sitting::Units::Next), on(Sitting::Units::All, 2)};
    CHECK(units_of_sittings(plan, 5) == Turns{{0, 1}, {2, 3}, {2, 3}, {}, {4}, {0, 1}});
    CHECK(units_of_sittings(plan, 0) == Turns(6));
    // With fewer units than sittings they begin again.
    CHECK(units_of_sittings(plan, 2) == Turns{{0}, {1}, {1}, {}, {0, 1}, {0, 1}});
    plan.sittings = {on(Sitting::Units::Next, 3), on(Sitting::Units::Next)};
    CHECK(units_of_sittings(plan, 7) == Turns{{0, 1, 2}, {3, 4, 5, 6}});
}

TEST_CASE("in the plan for good every unit has its turn, however many there are", "[book]") {
    const BookPlan& plan = *find_plan("for-good");
    for (std::size_t units = 1; units < 20; ++units) {
        std::set<std::size_t> seen;
        for (const std::vector<std::size_t>& turn : units_of_sittings(plan, units))
            seen.insert(turn.begin(), turn.end());
        CHECK(seen.size() == units);
    }
}

namespace {

RecordingSink with_plan(const char* plan) {
    const auto chart = std::filesystem::path{SHEDBOOK_SOURCE_DIR} / "sample-charts" / "sunday-bicycle.tune";
    const Instrument* played = find_instrument("alto-sax");
    const std::vector<BookPart> parts{{.instrument = played, .range = played->practical}};
    BookOptions options;
    options.by = BookBy::Unit;
    options.drills = usual_drills();
    options.plan = find_plan(plan);
    RecordingSink out;
    Diagnostics diagnostics;
    assemble_book({tune_of(read_file(chart.string()))}, parts, 0, options, out, diagnostics);
    return out;
}

// The titles of the units in each sitting, as their pages have them.
std::vector<std::vector<std::string>> units_on_pages(const RecordingSink& sink) {
    std::vector<std::vector<std::string>> out;
    for (const Block& block : sink.document.blocks) {
        if (std::holds_alternative<SittingStart>(block)) out.emplace_back();
        const auto* start = std::get_if<SectionStart>(&block);
        const auto* unit = start != nullptr ? std::get_if<UnitHead>(&start->head) : nullptr;
        if (unit != nullptr) out.back().push_back(title_of(*unit));
    }
    return out;
}

}  // namespace

TEST_CASE("what the table of a plan on units says is what its sittings have", "[book]") {
    for (const char* plan : {"evening", "for-good"}) {
        INFO(plan);
        const RecordingSink sink = with_plan(plan);
        REQUIRE(sink.all<PlanTable>().size() == 1);
        std::vector<std::vector<std::string>> said;
        for (const PlanTable::Row& row : sink.all<PlanTable>().front()->rows) {
            said.emplace_back();
            for (const UnitHead& unit : row.units) said.back().push_back(title_of(unit));
        }
        CHECK(said == units_on_pages(sink));
    }
}

TEST_CASE(
    "a book of the plan for good has a page for each unit of the first page; an evening has the hardest",
    "[book]") {
    const RecordingSink for_good = with_plan("for-good");
    for (const TuneOverview::Row& row : for_good.all<TuneOverview>().front()->units) CHECK(row.section > 0);
    const RecordingSink evening = with_plan("evening");
    const TuneOverview& overview = *evening.all<TuneOverview>().front();
    REQUIRE(overview.units.size() > 2);
    CHECK(overview.units.front().section == 1);
    CHECK(units_on_pages(evening).front().front() == title_of(overview.units.front().unit));
    CHECK(overview.units.back().section == 0);
}

TEST_CASE(
    "an evening has the hardest unit and the one that the tune plays most, and says when one comes again",
    "[book]") {
    const RecordingSink evening = with_plan("evening");
    const auto bars = [](const UnitHead& unit) {
        std::set<int> out;
        for (const UnitHead::Place& place : unit.places) {
            for (int bar = place.first_bar; bar <= place.last_bar; ++bar) out.insert(bar);
        }
        return out.size();
    };
    const std::vector<TuneOverview::Row>& units = evening.all<TuneOverview>().front()->units;
    std::size_t most = 0;
    for (const TuneOverview::Row& row : units) most = std::max(most, bars(row.unit));
    CHECK(std::max(bars(units[0].unit), bars(units[1].unit)) == most);
    std::map<std::string, int> first;
    int again = 0;
    for (const SectionStart* start : evening.all<SectionStart>()) {
        const auto* unit = std::get_if<UnitHead>(&start->head);
        if (unit == nullptr) continue;
        const auto known = first.try_emplace(title_of(*unit), start->number);
        CHECK(unit->again == (known.second ? 0 : known.first->second));
        again += unit->again > 0 ? 1 : 0;
    }
    CHECK(again >= 2);
}

TEST_CASE("in a sitting by memory the notes of a unit are not to be seen", "[book]") {
    const RecordingSink sink = with_plan("for-good");
    std::size_t sittings = 0;
    bool is_from_memory = false;
    for (const Block& block : sink.document.blocks) {
        if (const auto* start = std::get_if<SittingStart>(&block)) {
            ++sittings;
            is_from_memory = start->title == "Week 6";
        }
        const auto* etude = std::get_if<Etude>(&block);
        if (!is_from_memory || etude == nullptr || etude->number.piece == 0) continue;
        for (const Event& event : etude->music.front().events)
            CHECK_FALSE(std::holds_alternative<Sounded>(event.what));
    }
    CHECK(sittings == 6);
}

}  // namespace shedbook
