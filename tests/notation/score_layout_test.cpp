#include "shedbook/notation/score_layout.h"

#include <catch2/catch.hpp>

namespace shedbook {
namespace {

// Bars with so many notes each.
WrittenMusic music_of_bars(const std::vector<std::size_t>& notes) {
    WrittenMusic out;
    for (const std::size_t count : notes) {
        Measure measure;
        measure.first_event = out.events.size();
        measure.event_count = count;
        out.measures.push_back(measure);
        Event event;
        event.what = Sounded{};
        out.events.resize(out.events.size() + count, event);
    }
    return out;
}

}  // namespace

TEST_CASE("a score breaks all parts alike and does not tear what one page holds", "[notation]") {
    ScoreLayout layout{6};
    int pages = 1;
    for (int piece = 0; piece < 5; ++piece) {
        std::vector<WrittenMusic> parts(6, music_of_bars({16, 16, 16, 16}));
        layout.lay_out(parts);
        for (const WrittenMusic& part : parts) {
            CHECK_FALSE(part.measures[0].new_system);
            CHECK(part.measures[2].new_system);
            // The first page has a title, and room for one line only.
            CHECK(part.measures[2].new_page == (piece == 0));
            CHECK(part.measures[0].new_page == parts[0].measures[0].new_page);
        }
        pages += parts[0].measures[0].new_page ? 1 : 0;
    }
    CHECK(pages > 1);
    CHECK(staff_height(1) == 60);
    CHECK(staff_height(15) < 60);
    CHECK(staff_height(40) == 30);
}

}  // namespace shedbook
