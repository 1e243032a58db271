// Sections in the order of their pages, and their numbers.
#include "shedbook/write/page_order.h"

#include <catch2/catch.hpp>
#include <vector>

#include "../../src/write/page_plan.h"
#include "blocks.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

const Instrument& flute() {
    return *find_instrument("flute");
}

// Four bars of whole notes.
WrittenMusic four_bars() {
    ConcertLine line;
    Position at;
    for (int bar = 0; bar < 4; ++bar) {
        line.notes.push_back({*parse_pitch("A4"), at, kWhole});
        at += kWhole;
    }
    line.length = at - Position{};
    NotateOptions options;
    options.instrument = &flute();
    options.key = Key{};
    return notate(line, options);
}

const UnitHead kCadence{"ii-V", {{Key{}, 1, 2}}, Grade::Hard, ""};

void add_unit(BlockSink& sink, int number, int lines, int again = 0) {
    UnitHead head = kCadence;
    head.again = again;
    sink.take(SectionStart{number, head});
    for (int i = 1; i <= lines; ++i) {
        Etude line = etude_block(four_bars());
        line.number = {number, i};
        sink.take(std::move(line));
    }
    sink.take(SectionEnd{});
}

TopicHead lydian() {
    TopicHead head;
    head.topic = topic_of("Cmaj7(#11)", "C Lydian");
    head.parts = {{head.topic.symbol, head.topic.scale, spelled(head.topic.scale)}};
    return head;
}

void add_notes(BlockSink& sink, int number, int drills) {
    sink.take(SectionStart{number, lydian()});
    for (int i = 1; i <= drills; ++i) sink.take(drill_block(four_bars(), {number, i}));
    sink.take(SectionEnd{});
}

// A page of a unit, one of two pages that would turn overleaf, and a page of drills on a scale.
Document book() {
    return recorded([](BlockSink& sink) {
        sink.begin({"Rooms", "", {flute()}, ""});
        sink.take(Cover{});
        TuneOverview overview;
        overview.units = {{1, kCadence}, {2, kCadence}, {0, kCadence}};
        sink.take(overview);
        sink.take(ScaleTable{{{3, lydian().parts.front(), "I", {}, {}}}});
        add_unit(sink, 1, 8);
        add_unit(sink, 2, 14);
        add_notes(sink, 3, 6);
        add_unit(sink, 4, 2, 2);
        sink.finish();
    });
}

template <class Kind>
const Kind& only(const Document& document) {
    for (const Block& block : document.blocks) {
        if (const auto* found = std::get_if<Kind>(&block)) return *found;
    }
    throw std::logic_error{"there is none"};
}

}  // namespace

TEST_CASE(
    "a page that may stand anywhere comes before a unit that would turn overleaf, and its number with it",
    "[write]") {
    const Document document = book();
    const PageOrder order = page_order(document);
    CHECK(order == PageOrder{1, 3, 2, 4});
    const Document ordered = in_page_order(document, order);
    REQUIRE(ordered.blocks.size() == document.blocks.size());
    std::vector<int> sections;
    int units = 0;
    PieceNumber last;
    for (const Block& block : ordered.blocks) {
        if (const auto number = number_of(block)) {
            CHECK(*number > last);
            CHECK(number->section == sections.back());
            last = *number;
        }
        const auto* start = std::get_if<SectionStart>(&block);
        if (start == nullptr) continue;
        sections.push_back(start->number);
        if (const auto* unit = std::get_if<UnitHead>(&start->head))
            CHECK(unit->again == (++units == 3 ? 3 : 0));
    }
    CHECK(sections == std::vector{1, 2, 3, 4});
    const TuneOverview& overview = only<TuneOverview>(ordered);
    CHECK(overview.units[0].section == 1);
    CHECK(overview.units[1].section == 3);
    CHECK(overview.units[2].section == 0);
    CHECK(only<ScaleTable>(ordered).rows.front().section == 2);
    // The unit lies open now, and nothing is left to move.
    const PagePlan plan = planned(contents_of(ordered), room_of(Paper::A4));
    CHECK(plan.tunes[0].page_of(3) % 2 == 0);
    CHECK(page_order(ordered) == PageOrder{1, 2, 3, 4});
}

TEST_CASE("a document with other sections than an order names keeps its own", "[write]") {
    const Document document = book();
    for (const PageOrder& order : {PageOrder{1, 2, 3}, PageOrder{1, 2, 3, 5}, PageOrder{}}) {
        const Document same = in_page_order(document, order);
        REQUIRE(same.blocks.size() == document.blocks.size());
        CHECK(only<ScaleTable>(same).rows.front().section == 3);
    }
}

}  // namespace shedbook
