#include "shedbook/notation/line_breaks.h"

#include <catch2/catch.hpp>

namespace shedbook {
namespace {

// Bars with so many notes each, every one with or without an accidental.
WrittenMusic music(const std::vector<std::size_t>& notes, bool with_accidentals = false) {
    WrittenMusic out;
    for (const std::size_t count : notes) {
        Measure measure;
        measure.first_event = out.events.size();
        measure.event_count = count;
        out.measures.push_back(measure);
        Event event;
        event.what = Sounded{{}, with_accidentals ? Accidental::Sharp : Accidental::None};
        out.events.resize(out.events.size() + count, event);
    }
    return out;
}

std::vector<bool> starts(const WrittenMusic& of, const LineRules& rules) {
    return starts_of_lines(of, rules);
}

}  // namespace

TEST_CASE("lines share the notes of a piece evenly, as few as there is room for", "[notation]") {
    const LineRules rules{.room = 2 * 36};
    CHECK(starts(music({8, 8, 8, 8}), rules) == std::vector{true, false, false, false});
    CHECK(starts(music({9, 9, 9, 9}), rules) == std::vector{true, false, false, false});
    CHECK(starts(music({9, 9, 9, 10}), rules) == std::vector{true, false, true, false});
    CHECK(starts(music({8, 8, 8, 8, 8, 8, 8, 8}), rules) ==
          std::vector{true, false, false, false, true, false, false, false});
}

TEST_CASE("a number of bars a line is halved where they are crowded", "[notation]") {
    const LineRules rules{.room = 96, .bars = 4, .weighs_accidentals = true};
    CHECK(starts(music({12, 12, 12, 12, 4}), rules) == std::vector{true, false, false, false, true});
    CHECK(starts(music({12, 12, 12, 13, 4}), rules) == std::vector{true, false, true, false, true});
    // Accidentals ask for half as much again.
    CHECK(starts(music({8, 8, 8, 8}, true), rules) == std::vector{true, false, false, false});
    CHECK(starts(music({8, 8, 8, 9}, true), rules) == std::vector{true, false, true, false});
}

TEST_CASE("accidentals ask for no room where the rules do not weigh them", "[notation]") {
    const LineRules rules{.room = 2 * 36};
    CHECK(starts(music({9, 9, 9, 9}, true), rules) == std::vector{true, false, false, false});
    CHECK(starts(music({9, 9, 9, 10}, true), rules) == std::vector{true, false, true, false});
}

}  // namespace shedbook
