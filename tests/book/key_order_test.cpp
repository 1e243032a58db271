#include "shedbook/book/key_order.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

namespace shedbook {
namespace {

SheetTopic topic_of(const char* scale) {
    SheetTopic out;
    out.scale.scale = *parse_scale(scale);
    out.scale.notes = spelled(out.scale.scale);
    return out;
}

std::vector<std::string> roots_of(const char* scale, KeyOrder order, Prefer prefer = Prefer::Fewest) {
    std::vector<std::string> out;
    for (const SheetTopic& topic :
         in_all_keys({topic_of(scale)}, {order, 1, prefer}, *find_instrument("flute")))
        out.push_back(to_string(topic.scale.scale.tonic));
    return out;
}

}  // namespace

TEST_CASE("every order of keys holds each of the twelve once", "[book]") {
    for (const Worded<KeyOrder>& order : kWords<KeyOrder>) {
        for (const std::uint64_t seed : {1U, 2U, 77U}) {
            const std::vector<int> keys = keys_in_order(order.value, seed);
            CHECK(keys.size() == 12);
            CHECK(std::set<int>(keys.begin(), keys.end()).size() == 12);
        }
    }
    CHECK(keys_in_order(KeyOrder::Shuffle, 1) != keys_in_order(KeyOrder::Shuffle, 2));
    CHECK(keys_in_order(KeyOrder::Shuffle, 5) == keys_in_order(KeyOrder::Shuffle, 5));
}

// The circle of fifths, as in any theory primer (from memory).
TEST_CASE("fourths go round the circle from the key given", "[book]") {
    CHECK(roots_of("C major", KeyOrder::Fourths) ==
          std::vector<std::string>{"C", "F", "Bb", "Eb", "Ab", "Db", "Gb", "B", "E", "A", "D", "G"});
    CHECK(roots_of("A major", KeyOrder::MinorThirds) ==
          std::vector<std::string>{"A", "C", "Eb", "F#", "Bb", "Db", "E", "G", "B", "D", "F", "Ab"});
}

TEST_CASE("the side asked for decides where a key can be written two ways", "[book]") {
    const auto sharps = roots_of("C major", KeyOrder::Fourths, Prefer::Sharps);
    CHECK(std::ranges::find(sharps, "F#") != sharps.end());
    const auto flats = roots_of("C major", KeyOrder::Fourths, Prefer::Flats);
    CHECK(std::ranges::find(flats, "Gb") != flats.end());
}

TEST_CASE("the hardest keys of an alto come first, as it reads them", "[book]") {
    const auto topics = in_all_keys({topic_of("C major")}, {KeyOrder::Hardest, 1, Prefer::Fewest},
                                    *find_instrument("alto-sax"));
    REQUIRE(topics.size() == 12);
    // Concert A is written F sharp (or G flat); concert E flat is written C.
    CHECK(to_string(topics.front().scale.scale.tonic) == "A");
    CHECK(to_string(topics.back().scale.scale.tonic) == "Eb");
}

TEST_CASE("a chord takes its scale along through the keys", "[book]") {
    SheetTopic topic;
    topic.symbol = parse_chord_symbol("G7alt");
    topic.scale = scales_for(*topic.symbol).front();
    for (const SheetTopic& key : in_all_keys({topic}, {}, *find_instrument("flute"))) {
        REQUIRE(key.symbol);
        CHECK(key.symbol->root == key.scale.scale.tonic);
        CHECK(key.scale.scale.type == topic.scale.scale.type);
    }
}

}  // namespace shedbook
