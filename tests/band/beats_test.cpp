#include "shedbook/band/beats.h"

#include <algorithm>
#include <catch2/catch.hpp>

namespace shedbook {
namespace {

// In eighths from the start of the bar.
std::vector<int> eighths(const std::vector<Position>& places) {
    std::vector<int> out;
    for (const Position at : places) out.push_back(static_cast<int>((at.whole_notes * Rational{8}).floor()));
    return out;
}

std::vector<int> counted(const Meter& meter) {
    std::vector<Position> places;
    for (const CountInClick& click : count_in(meter)) places.push_back(click.at);
    return eighths(places);
}

using List = std::vector<int>;

}  // namespace

// The counts are common practice, no source.
TEST_CASE("a count-in of two bars gives few beats, then all", "[band]") {
    CHECK(counted(Meter{4, 4}) == List{0, 4, 8, 10, 12, 14});
    CHECK(counted(Meter{2, 2}) == List{0, 4, 8, 10, 12, 14});
    CHECK(counted(Meter{3, 4}) == List{0, 6, 8, 10});
    CHECK(counted(Meter{5, 4, {3, 2}}) == List{0, 6, 10, 12, 14, 16, 18});
    CHECK(counted(Meter{5, 4, {2, 3}}) == List{0, 4, 10, 12, 14, 16, 18});
    CHECK(counted(Meter{6, 8}) == List{0, 3, 6, 7, 8, 9, 10, 11});
    CHECK(count_in(Meter{6, 8})[3].stress == Stress::Between);
    CHECK(count_in(Meter{4, 4}).front().stress == Stress::Downbeat);
    CHECK(count_in(Meter{4, 4}, true).size() == 14);
}

TEST_CASE("clicks lie on two and four, and on what stands for them in other meters", "[band]") {
    const auto two_and_four = [](const Meter& m) { return eighths(click_places(m, Clicks::TwoAndFour)); };
    CHECK(two_and_four(Meter{4, 4}) == List{2, 6});
    CHECK(two_and_four(Meter{3, 4}) == List{0});
    CHECK(two_and_four(Meter{5, 4, {3, 2}}) == List{0, 6});
    CHECK(two_and_four(Meter{6, 8}) == List{0, 3});
    CHECK(eighths(click_places(Meter{3, 4}, Clicks::WeakBeats)) == List{2, 4});
    CHECK(eighths(click_places(Meter{4, 4}, Clicks::WeakBeats)) == List{2, 6});
    CHECK(eighths(click_places(Meter{3, 4}, Clicks::EveryBeat)) == List{0, 2, 4});
    CHECK(click_places(Meter{4, 4}, Clicks::None).empty());
}

TEST_CASE("a walking bass has one note a beat", "[band]") {
    CHECK(eighths(bass_places(Meter{4, 4}, BassFeel::Walking)) == List{0, 2, 4, 6});
    CHECK(eighths(bass_places(Meter{6, 8}, BassFeel::Walking)) == List{0, 3});
    CHECK(eighths(bass_places(Meter{12, 8}, BassFeel::Walking)) == List{0, 3, 6, 9});
    CHECK(eighths(bass_places(Meter{2, 2}, BassFeel::Walking)) == List{0, 4});
}

TEST_CASE("a straight bass has a long note and a short one, in every meter of its own", "[band]") {
    const auto straight = [](const Meter& meter) { return eighths(bass_places(meter, BassFeel::Straight)); };
    CHECK(straight(Meter{4, 4}) == List{0, 3, 4, 7});
    CHECK(straight(Meter{2, 2}) == List{0, 3, 4, 7});
    CHECK(straight(Meter{2, 4}) == List{0, 3});
    CHECK(straight(Meter{3, 4}) == List{0, 3, 4});
    CHECK(straight(Meter{6, 8}) == List{0, 2, 3, 5});
    CHECK(straight(Meter{5, 4, {3, 2}}) == List{0, 3, 4, 6, 9});
    CHECK(straight(Meter{5, 4, {2, 3}}) == List{0, 3, 4, 7, 8});
    CHECK(straight(Meter{7, 4, {4, 3}}) == List{0, 3, 4, 7, 8, 11, 12});
    CHECK(straight(Meter{7, 4, {3, 4}}) == List{0, 3, 4, 6, 9, 10, 13});
    // Where eighths are counted in unequal groups there is no room for a short note.
    CHECK(straight(Meter{7, 8}) == eighths(bass_places(Meter{7, 8}, BassFeel::Walking)));
    for (int beats = 1; beats <= 16; ++beats) {
        for (const int unit : {1, 2, 4, 8, 16}) {
            const Meter meter{beats, unit};
            const std::vector<Position> places = bass_places(meter, BassFeel::Straight);
            REQUIRE(!places.empty());
            CHECK(places.front() == Position{});
            CHECK(std::ranges::is_sorted(places));
            CHECK(places.back() < Position{} + meter.bar_length());
        }
    }
}

TEST_CASE("a pickup has the places of the end of its meter", "[band]") {
    const BandBar pickup{Position{}, kHalf, Meter{4, 4}};
    CHECK(eighths(placed_in(pickup, click_places(Meter{4, 4}, Clicks::TwoAndFour))) == List{2});
    CHECK(eighths(placed_in(pickup, bass_places(Meter{4, 4}, BassFeel::Walking))) == List{0, 2});
}

// Common practice, no source.
TEST_CASE("where a bar has two beats the click lies on the second", "[band]") {
    CHECK(eighths(click_places(Meter{2, 4}, Clicks::TwoAndFour)) == List{2});
    CHECK(eighths(click_places(Meter{2, 2}, Clicks::TwoAndFour)) == List{4});
}

}  // namespace shedbook
