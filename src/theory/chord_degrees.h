// The tones of a chord as a set of degrees over the root. Two symbols that have the same set mean the same
// chord, so everything that a reader of text or of files finds out is gathered in such a set first and
// described afterwards.
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <string_view>

#include "shedbook/theory/chord_symbol.h"

namespace shedbook {

using DegreeSet = std::uint32_t;

struct Degree {
    int number;  // 2 to 13
    int alter;   // semitones against the major or perfect degree
    ChordRole role;
};

// One bit each, the lowest first; sorted by number, then alter.
inline constexpr std::array<Degree, 19> kDegrees{{
    {2, 0, ChordRole::Second},      {3, -1, ChordRole::Third},    {3, 0, ChordRole::Third},
    {4, 0, ChordRole::Fourth},      {5, -1, ChordRole::Fifth},    {5, 0, ChordRole::Fifth},
    {5, 1, ChordRole::Fifth},       {6, -1, ChordRole::Sixth},    {6, 0, ChordRole::Sixth},
    {7, -2, ChordRole::Seventh},    {7, -1, ChordRole::Seventh},  {7, 0, ChordRole::Seventh},
    {9, -1, ChordRole::Ninth},      {9, 0, ChordRole::Ninth},     {9, 1, ChordRole::Ninth},
    {11, 0, ChordRole::Eleventh},   {11, 1, ChordRole::Eleventh}, {13, -1, ChordRole::Thirteenth},
    {13, 0, ChordRole::Thirteenth},
}};

// The set that holds one degree; empty where there is no such chord tone.
constexpr DegreeSet degree_set(int number, int alter = 0) {
    for (std::size_t i = 0; i < kDegrees.size(); ++i) {
        if (kDegrees[i].number == number && kDegrees[i].alter == alter) return DegreeSet{1} << i;
    }
    return 0;
}

// All degrees of one number: the three fifths, the three ninths ...
constexpr DegreeSet degrees_numbered(int number) {
    return degree_set(number, -2) | degree_set(number, -1) | degree_set(number, 0) | degree_set(number, 1);
}

inline constexpr DegreeSet kSecond = degree_set(2);
inline constexpr DegreeSet kFlatThird = degree_set(3, -1);
inline constexpr DegreeSet kThird = degree_set(3);
inline constexpr DegreeSet kFourth = degree_set(4);
inline constexpr DegreeSet kFlatFifth = degree_set(5, -1);
inline constexpr DegreeSet kFifth = degree_set(5);
inline constexpr DegreeSet kSharpFifth = degree_set(5, 1);
inline constexpr DegreeSet kFlatSixth = degree_set(6, -1);
inline constexpr DegreeSet kSixth = degree_set(6);
inline constexpr DegreeSet kDiminishedSeventh = degree_set(7, -2);
inline constexpr DegreeSet kFlatSeventh = degree_set(7, -1);
inline constexpr DegreeSet kSeventh = degree_set(7);
inline constexpr DegreeSet kFlatNinth = degree_set(9, -1);
inline constexpr DegreeSet kNinth = degree_set(9);
inline constexpr DegreeSet kSharpNinth = degree_set(9, 1);
inline constexpr DegreeSet kEleventh = degree_set(11);
inline constexpr DegreeSet kSharpEleventh = degree_set(11, 1);
inline constexpr DegreeSet kFlatThirteenth = degree_set(13, -1);
inline constexpr DegreeSet kThirteenth = degree_set(13);
// No tone, but part of the meaning: "alt", fifth and tensions altered at the player's choice.
inline constexpr DegreeSet kAltered = DegreeSet{1} << kDegrees.size();

inline constexpr DegreeSet kThirds = kFlatThird | kThird;
inline constexpr DegreeSet kFifths = degrees_numbered(5);
inline constexpr DegreeSet kSevenths = degrees_numbered(7);
inline constexpr DegreeSet kNinths = degrees_numbered(9);

constexpr bool holds(DegreeSet set, DegreeSet all_of) {
    return (set & all_of) == all_of;
}
constexpr bool meets(DegreeSet set, DegreeSet any_of) {
    return (set & any_of) != 0;
}
constexpr const Degree& lowest_degree(DegreeSet set) {
    return kDegrees[static_cast<std::size_t>(std::countr_zero(set))];
}

// A chord has one seventh; only over a diminished one a major one may stand.
constexpr bool has_two_sevenths(DegreeSet set) {
    return holds(set, kFlatSeventh) && meets(set, kSeventh | kDiminishedSeventh);
}

// "1 b3 5 bb7" as a set (the root goes without saying); for tables, so nothing is checked.
constexpr DegreeSet degrees_in(std::string_view text) {
    DegreeSet out = 0;
    int number = 0;
    int alter = 0;
    for (const char c : text) {
        if (c == 'b' || c == '#') {
            alter += c == '#' ? 1 : -1;
        } else if (c == ' ') {
            out |= degree_set(number, alter);
            number = alter = 0;
        } else {
            number = 10 * number + (c - '0');
        }
    }
    return out | degree_set(number, alter);
}

// One name for tones that have two: a sixth beside a seventh is a thirteenth, a sixth in a diminished triad
// is its seventh, a flat fifth beside a natural one is a sharp eleventh ... Done twice it changes nothing
// more.
[[nodiscard]] DegreeSet tidied(DegreeSet degrees);

// What a kind or a symbol holds; of a kind the table's own degrees.
[[nodiscard]] DegreeSet degrees_of(const ChordKind& kind);
[[nodiscard]] DegreeSet degrees_of(const ChordSymbol& symbol);
// The natural 11 or 3 that the name of a kind holds by the book and its row leaves out.
[[nodiscard]] DegreeSet optional_degrees(const ChordKind& kind);
[[nodiscard]] DegreeSet optional_degrees(const ChordSymbol& symbol);

// The symbol for a tidied set without two sevenths: the kind that leaves the least to say, and what is left.
[[nodiscard]] ChordSymbol described(DegreeSet degrees, PitchClass root, std::optional<PitchClass> bass);
// What has to be said beyond a given kind; nothing where that kind cannot be the ground of it.
[[nodiscard]] std::optional<std::vector<Alteration>> described_as(const ChordKind& kind, DegreeSet degrees);
// How much there is to say, the order of preference among kinds; nothing as above.
[[nodiscard]] std::optional<int> effort(const ChordKind& kind, DegreeSet degrees);

}  // namespace shedbook
