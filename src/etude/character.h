// The character of a composed etude: figures that it aims at, drawn as players' figures are spread and as
// they go together. One player is busy and chromatic, another sings in long notes; none is the average.
//
//     Character character = draw_character(dice, changes_in_a_bar);
//     Figures aims = aims_of(character, window_for(32));
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "dice.h"
#include "figures.h"

namespace shedbook {

inline constexpr std::size_t kSpreadPoints = 13;
using Spread = std::array<double, kSpreadPoints>;

// How lines of so many bars measure.
struct FigureWindow {
    int bars = 32;
    std::array<Spread, kFigures> spread{};
    Spread changes{};
    IntervalShape intervals{};
    std::array<double, kFigures> deviation{};  // of each figure
};

// templates/melody_figures.toml
struct FigureProfile {
    std::vector<FigureWindow> windows;
    // Rows of a lower triangle: changes in a bar first, then the figures.
    std::vector<std::vector<double>> factor;
};
[[nodiscard]] const FigureProfile& figure_profile();
// The window nearest in length.
[[nodiscard]] const FigureWindow& window_for(int bars);

// Deviates, each about normal: 0 the middle of all players.
struct Character {
    std::array<double, kFigures> deviates{};
};

// `changes`: chord changes in a bar of the tune. The first of them is the one that belongs to the seed:
// sixteen seeds in a row are sixteen players who cover the field evenly (a Latin hypercube: McKay, Beckman
// and Conover, Technometrics 1979). The others are as the dice have them.
[[nodiscard]] std::vector<Character> draw_characters(std::uint64_t seed, Dice& dice, double changes,
                                                     int count);
// How much it asks of the player.
[[nodiscard]] double demand(const Character& character);
[[nodiscard]] Figures aims_of(const Character& character, const FigureWindow& window);

}  // namespace shedbook
