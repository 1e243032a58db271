// Chance that gives the same on every machine, and cards that are dealt: over a few bars already each comes
// as often as its share says, which throwing dice would not give.
#pragma once

#include <cstddef>
#include <random>
#include <utility>
#include <vector>

namespace shedbook {

class Chance {
  public:
    explicit Chance(unsigned seed) : engine_{seed} {}
    // 0 to n - 1.
    [[nodiscard]] int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }

  private:
    std::mt19937 engine_;
};

// A pack of cards, some of a kind; it is shuffled anew when it is used up.
template <class Card>
class Pack {
  public:
    Pack(std::vector<std::pair<Card, int>> kinds, Chance& chance)
        : kinds_{std::move(kinds)}, chance_{chance} {}

    [[nodiscard]] Card deal() {
        if (left_.empty()) {
            for (const auto& [card, count] : kinds_)
                left_.insert(left_.end(), static_cast<std::size_t>(count), card);
        }
        const auto at = static_cast<std::size_t>(chance_.below(static_cast<int>(left_.size())));
        const Card out = left_[at];
        left_[at] = left_.back();
        left_.pop_back();
        return out;
    }

  private:
    std::vector<std::pair<Card, int>> kinds_;
    Chance& chance_;
    std::vector<Card> left_;
};

}  // namespace shedbook
