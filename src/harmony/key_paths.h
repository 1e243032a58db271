// The cheapest way through the keys of a tune, given its home: a dynamic programme over 36 keys at each
// chord.
#pragma once

#include <array>
#include <vector>

#include "key_model.h"

namespace shedbook {

class KeyPaths {
  public:
    KeyPaths(const std::vector<ChordView>& chords, const KeyModel& model);

    // The tune heard in one key throughout: enough to rank the homes worth trying.
    [[nodiscard]] double all_in(int key) const;
    // Cost of the best path with this home; `keys` becomes that path if it is cheaper than `limit`.
    double best(int home, double limit, std::vector<Tonality>& keys);

  private:
    using Costs = std::array<float, kKeys>;
    // Where a chord stands decides what a change of key costs.
    enum class Place { Section, Phrase, Bar, InsideBar, InsideTwoFive };
    static constexpr std::size_t kPlaces = 5;
    [[nodiscard]] static Place place_of(const std::vector<ChordView>& chords, std::size_t i);
    using Changes = std::array<Costs, kKeys>;

    [[nodiscard]] double change(Tonality from, Tonality to, double share) const;
    double step(std::size_t i, int home);
    void trace(int key, std::vector<Tonality>& keys) const;

    std::size_t count_;
    const KeyScores& scores_;
    std::vector<Costs> heard_;
    std::vector<float> away_;
    std::vector<Place> place_;
    std::vector<Costs> cost_;  // of the best path to each key at each chord
    std::array<Changes, kPlaces> changes_{};
};

}  // namespace shedbook
