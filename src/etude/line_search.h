// The cheapest line through rows of notes: one note a place, a cost for each move, and for every chord the
// duty to be told by one of its notes, and to be coloured by one of its altered tones where it has some.
// Exact: R. Bellman's dynamic programming over note, direction, and whether the chord is told and coloured.
//
//     std::vector<Pitch> line = cheapest_line(places, [](const LineMove& move) { ... });
#pragma once

#include <array>
#include <limits>
#include <optional>
#include <vector>

#include "chord_facts.h"
#include "shedbook/theory/pitch.h"

namespace shedbook {

struct LinePlace {
    std::vector<Pitch> choices;  // never empty
    SoundSet tell = 0;           // what tells its chord; 0: no duty
    bool opens = false;          // the first note of its chord
    bool closes = false;         // the last one
    bool fresh = false;          // nothing comes before it
    SoundSet colour = 0;         // its altered tones; 0: none that must be heard
};

struct LineMove {
    std::size_t place = 0;
    std::optional<Pitch> from = {};
    int way = 1;  // in which direction the line was going: 1 up, -1 down
    Pitch to;
    [[nodiscard]] int by() const { return from ? to.midi() - from->midi() : 0; }
    [[nodiscard]] bool turns() const { return from && by() * way < 0; }
};

struct MoveCost {
    double cost = 0;
    SoundSet sounds = 0;  // what else sounds on the way, under the chord of the place before
};
inline constexpr double kNever = 1e6;    // still better than no line
inline constexpr double kUntold = 1000;  // a chord that is not told
inline constexpr double kUnaltered = 6;  // an altered chord without an altered tone

template <class Cost>
std::vector<Pitch> cheapest_line(const std::vector<LinePlace>& places, int first_way, const Cost& cost) {
    struct State {
        double cost = std::numeric_limits<double>::infinity();
        int from = -1;
    };
    // State of a place: kStates * choice, and these bits.
    constexpr std::size_t kTold = 1;
    constexpr std::size_t kColoured = 2;
    constexpr std::size_t kUp = 4;
    constexpr std::size_t kStates = 8;
    std::vector<std::vector<State>> rows;
    rows.reserve(places.size());
    for (std::size_t p = 0; p < places.size(); ++p) {
        const LinePlace& place = places[p];
        std::vector<State>& row = rows.emplace_back(kStates * place.choices.size());
        const auto arrive = [&](std::size_t choice, int way, std::size_t known, double at, int from) {
            if (holds(place.tell, place.choices[choice].midi())) known |= kTold;
            if (holds(place.colour, place.choices[choice].midi())) known |= kColoured;
            if (place.closes && place.tell != 0 && (known & kTold) == 0) at += kUntold;
            if (place.closes && place.colour != 0 && (known & kColoured) == 0) at += kUnaltered;
            State& state = row[kStates * choice + (way > 0 ? kUp : 0U) + known];
            if (at < state.cost) state = {at, from};
        };
        if (p == 0) {
            for (std::size_t c = 0; c < place.choices.size(); ++c)
                arrive(c, first_way, 0, cost(LineMove{p, {}, first_way, place.choices[c]}).cost, -1);
            continue;
        }
        const std::vector<State>& before = rows[p - 1];
        const LinePlace& last = places[p - 1];
        for (std::size_t s = 0; s < before.size(); ++s) {
            if (before[s].cost == std::numeric_limits<double>::infinity()) continue;
            LineMove move{p, last.choices[s / kStates], (s & kUp) != 0 ? 1 : -1, {}};
            if (place.fresh) move.from.reset();
            for (std::size_t c = 0; c < place.choices.size(); ++c) {
                move.to = place.choices[c];
                const MoveCost step = cost(move);
                if (step.cost >= kNever && before[s].cost >= kNever) continue;
                const int way = move.by() == 0 ? move.way : move.by() > 0 ? 1 : -1;
                std::size_t known = place.opens ? 0 : s & (kTold | kColoured);
                if (!place.opens && (step.sounds & place.tell) != 0) known |= kTold;
                // What sounds before the chord is over may still tell the one before.
                double at = before[s].cost + step.cost;
                if (place.opens && last.tell != 0 && (s & kTold) == 0 && (step.sounds & last.tell) != 0)
                    at -= kUntold;
                arrive(c, way, known, at, static_cast<int>(s));
            }
        }
    }
    std::vector<Pitch> out(places.size());
    if (places.empty()) return out;
    const std::vector<State>& end = rows.back();
    std::size_t s = 0;
    for (std::size_t k = 0; k < end.size(); ++k) {
        if (end[k].cost < end[s].cost) s = k;
    }
    for (std::size_t p = places.size(); p-- > 0;) {
        out[p] = places[p].choices[s / kStates];
        if (p > 0) s = static_cast<std::size_t>(rows[p][s].from);
    }
    return out;
}

}  // namespace shedbook
