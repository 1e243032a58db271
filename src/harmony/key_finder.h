// The keys of a tune: one home key and the key of every chord, found together as the reading with the least
// cost. For each likely home key a dynamic programme goes through the chords once; the cheapest whole wins,
// so the answer is exact for the costs given, takes time in proportion to the chords, and each part of it can
// be looked up in the costs.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "home_ends.h"
#include "key_model.h"

namespace shedbook {

struct KeyReading {
    Tonality home;
    std::vector<Tonality> keys;  // one a chord
    // Cost of the best reading with each home key that was tried (by index_of); the rest stay at kUntried.
    std::array<double, kKeys> cost_of_home{};
    // How far each is believed; all together 1.
    std::array<double, kKeys> belief{};
};

// How much weight a key has that was named beforehand: it is a strong hint, or the law.
enum class Said { Hint, Law };
[[nodiscard]] KeyReading find_keys(const std::vector<ChordView>& chords,
                                   const std::optional<Tonality>& stated, Said said = Said::Hint,
                                   const KeyModel& model = key_model());

// How sure the home of a reading is. A blues and its major key are one home here.
struct HomeOdds {
    double probability = 1;             // of the home that was found
    std::optional<Tonality> runner_up;  // the likeliest other home; none if no other was tried
    // What speaks loudest for each against the other; none if nothing does.
    std::optional<Voice> for_home, for_runner_up;
};
[[nodiscard]] HomeOdds odds_of(const KeyReading& reading, const std::vector<ChordView>& chords,
                               const std::optional<Tonality>& stated, const KeyModel& model = key_model());

}  // namespace shedbook
