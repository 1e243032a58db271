// Chords and scales through all keys, in an order that a player asks for.
//
//     auto topics = in_all_keys({c_dorian}, {.order = KeyOrder::Fourths}, *alto);
//     topics.size();                                           // 12: C, F, Bb, Eb ...
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/book/book.h"

namespace shedbook {

// Hardest: most accidentals in the written part first. Shuffle: by the seed.
enum class KeyOrder { Chromatic, Fourths, Fifths, MinorThirds, WholeTones, Hardest, Shuffle };
template <>
inline constexpr Worded<KeyOrder> kWords<KeyOrder>[] = {
    {KeyOrder::Chromatic, "chromatic"},    {KeyOrder::Fourths, "fourths"},
    {KeyOrder::Fifths, "fifths"},          {KeyOrder::MinorThirds, "minor-thirds"},
    {KeyOrder::WholeTones, "whole-tones"}, {KeyOrder::Hardest, "hardest"},
    {KeyOrder::Shuffle, "shuffle"}};

struct KeyOrderOptions {
    KeyOrder order = KeyOrder::Fourths;
    std::uint64_t seed = 1;
    Prefer prefer = Prefer::Fewest;
};

// The roots as semitones above the first, every one of the twelve once.
[[nodiscard]] std::vector<int> keys_in_order(KeyOrder order, std::uint64_t seed);

// Each topic in twelve keys, beginning with its own (Hardest and Shuffle aside). Roots are named so that
// scale and chord need the fewest accidentals.
[[nodiscard]] std::vector<SheetTopic> in_all_keys(const std::vector<SheetTopic>& topics,
                                                  const KeyOrderOptions& options,
                                                  const Instrument& instrument);

}  // namespace shedbook
