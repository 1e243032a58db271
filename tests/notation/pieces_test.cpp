#include "shedbook/notation/pieces.h"

#include <catch2/catch.hpp>

#include "blocks.h"

namespace shedbook {
namespace {

WrittenMusic bars(std::size_t count) {
    WrittenMusic out;
    out.measures.resize(count);
    return out;
}

// Two sections of two drills, the changes and an etude, with what stands around them.
void assemble(BlockSink& sink) {
    sink.begin({"A book", "", {*find_instrument("flute")}, "AB12CD"});
    sink.take(Cover{});
    sink.take(Caution{"Rest."});
    sink.take(ChapterStart{{"door", "Blue Door"}});
    sink.take(Changes{{"door", "Blue Door"}, {bars(32)}});
    for (int section = 1; section <= 2; ++section) {
        sink.take(SectionStart{section, RoundHead{section}});
        for (int piece = 1; piece <= 2; ++piece) {
            Drill drill = drill_block(bars(4), {section, piece});
            drill.boxes = {{60, 20 * (piece + 2)}, true};
            sink.take(drill);
        }
        sink.take(SectionEnd{});
    }
    sink.take(etude_block(bars(8), {3, 0}));
    sink.take(ChapterEnd{});
    sink.take(LogPage{});
    sink.finish();
}

Document kept(const PieceFilter::Wanted& wanted) {
    Recorder out;
    PieceFilter filter{wanted, out};
    assemble(filter);
    CHECK(out.is_finished);
    return out.document;
}

}  // namespace

TEST_CASE("a filter keeps wanted pieces in their sections, and nothing around them", "[notation]") {
    const Document one = kept([](const Block& b) { return number_of(b) == PieceNumber{2, 1}; });
    CHECK(one.head.title == "A book");
    REQUIRE(one.blocks.size() == 3);
    CHECK(std::get<SectionStart>(one.blocks[0]).number == 2);
    CHECK(std::get<Drill>(one.blocks[1]).number == PieceNumber{2, 1});
    CHECK(std::holds_alternative<SectionEnd>(one.blocks[2]));
    const Document line = kept([](const Block& b) { return std::holds_alternative<Etude>(b); });
    CHECK(line.blocks.size() == 1);
    CHECK(kept([](const Block&) { return false; }).blocks.empty());
}

TEST_CASE("bars are counted of drills and etudes, not of the changes by themselves", "[notation]") {
    Recorder out;
    BarCount counted{out};
    assemble(counted);
    CHECK(counted.bars() == 4 * 4 + 8);
    CHECK(out.document.blocks.size() == recorded(assemble).blocks.size());
}

TEST_CASE("pieces say their numbers, boxes and music; other blocks have none", "[notation]") {
    const Drill drill = drill_block(bars(4), {1, 2});
    CHECK(number_of(drill) == PieceNumber{1, 2});
    CHECK(music_of(Block{drill})->front().measures.size() == 4);
    CHECK(boxes_of(drill).empty());
    CHECK(number_of(Caution{"Rest."}) == std::nullopt);
    CHECK(music_of(Block{Caution{"Rest."}}) == nullptr);
    CHECK(number_of(Changes{}) == std::nullopt);
}

TEST_CASE("a recorded document is handed over as it came", "[notation]") {
    const Document document = recorded(assemble);
    Recorder again;
    hand_over(document, again);
    CHECK(again.is_finished);
    CHECK(again.document.head.code == "AB12CD");
    CHECK(again.document.blocks.size() == document.blocks.size());
}

}  // namespace shedbook
