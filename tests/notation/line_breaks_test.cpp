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

// The bars on each line.
std::vector<int> lines(const std::vector<bool>& starts) {
    std::vector<int> out;
    for (const bool begins : starts) {
        if (begins) out.push_back(0);
        ++out.back();
    }
    return out;
}

using Lines = std::vector<int>;
constexpr int kBarOfEight = 8 * kNoteWeight + 2;

}  // namespace

TEST_CASE("lines share the music of a piece evenly, as few as there is room for", "[notation]") {
    const LineRules rules{.room = 4 * kBarOfEight};
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8}), rules)) == Lines{4});
    CHECK(lines(starts_of_lines(music({8, 8, 8, 9}), rules)) == Lines{2, 2});
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8, 8, 8, 8, 8}), rules)) == Lines{4, 4});
}

TEST_CASE("no line holds more than its room, but a bar alone", "[notation]") {
    for (std::size_t first = 1; first <= 20; ++first) {
        for (int room = kBarOfEight; room <= 5 * kBarOfEight; room += 7) {
            const WrittenMusic of = music({first, 8, 3, 16, 2, 8, 8, 20, 1, 1});
            const std::vector<int> bars = lines(starts_of_lines(of, {.room = room}));
            std::size_t bar = 0;
            for (const int count : bars) {
                int weight = 0;
                for (int i = 0; i < count; ++i)
                    weight += static_cast<int>(of.measures[bar++].event_count) * kNoteWeight + 2;
                CAPTURE(first, room, bar);
                CHECK((weight <= room || count == 1));
            }
        }
    }
}

TEST_CASE("an accidental asks for three quarters as much as a note", "[notation]") {
    const int room = 4 * (8 * kNoteWeight * 7 / 4 + 2);
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8}, true), {.room = room})) == Lines{4});
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8}, true), {.room = room - 1})) == Lines{2, 2});
}

TEST_CASE("a bar is as wide as the fullest of its staves and its chord symbols", "[notation]") {
    const LineRules rules{.room = 4 * kBarOfEight};
    WrittenMusic both = music({1, 1, 1, 1});
    both.lower.push_back(music({8, 8, 8, 9}));
    CHECK(lines(starts_of_lines(both, rules)) == Lines{2, 2});
    WrittenMusic under_symbols = music({1, 1, 1, 1});
    for (Measure& measure : under_symbols.measures) measure.chord_count = 5;
    CHECK(lines(starts_of_lines(under_symbols, rules)) == Lines{2, 2});
    const std::vector<WrittenMusic> score{music({8, 8, 8, 8}), music({1, 1, 1, 9})};
    CHECK(lines(starts_of_lines(score, rules)) == Lines{2, 2});
}

TEST_CASE("fingerings of two signs ask for room", "[notation]") {
    WrittenMusic of = music({8, 8, 8, 8});
    of.fingerings.resize(of.events.size());
    const LineRules rules{.room = 4 * kBarOfEight};
    CHECK(lines(starts_of_lines(of, rules)) == Lines{4});
    of.fingerings.front() = {"1", 1, false, "D"};
    CHECK(lines(starts_of_lines(of, rules)) == Lines{2, 2});
}

TEST_CASE("a number of bars a line is parted where they are crowded", "[notation]") {
    const LineRules rules{.room = 4 * kBarOfEight, .bars = 4};
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8, 4, 4}), rules)) == Lines{4, 2});
    CHECK(lines(starts_of_lines(music({8, 8, 8, 9, 4, 4}), rules)) == Lines{2, 2, 2});
}

TEST_CASE("no bar stands alone on the last of the lines with a number of bars", "[notation]") {
    const LineRules rules{.room = 4 * kBarOfEight, .bars = 4};
    CHECK(lines(starts_of_lines(music({2, 2, 2, 2, 2}), rules)) == Lines{5});
    CHECK(lines(starts_of_lines(music({8, 8, 8, 8, 2}), rules)) == Lines{2, 3});
    CHECK(lines(starts_of_lines(music({8}), rules)) == Lines{1});
}

TEST_CASE("lines that were chosen are parted where they hold more than the room", "[notation]") {
    const std::vector<bool> chosen{true, false, false, true, false};
    CHECK(parted(music({8, 8, 8, 8, 8}), chosen, 3 * kBarOfEight) == chosen);
    CHECK(lines(parted(music({8, 8, 8, 8, 8}), chosen, 2 * kBarOfEight)) == Lines{2, 1, 2});
}

}  // namespace shedbook
