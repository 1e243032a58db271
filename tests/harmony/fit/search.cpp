#include "search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <random>
#include <variant>

#include "judged.h"

namespace shedbook {
namespace {

using Member = std::variant<double KeyScores::*, double NearNumbers::*>;

struct Weight {
    const char* name;
    Member member;
    double neutral;
    double least;  // no less and no more than still makes musical sense
    double most;
    char kind;
};
constexpr double kLittle = 0.01;
constexpr double kMuch = 50;
// Costs of a beat begin at 1, gains at 3, shares at a half, a change of key at 8.
const Weight kWeights[]{
    {"other", &NearNumbers::other, 1, kLittle, kMuch, 'N'},
    {"main_share", &NearNumbers::main_share, 0.5, kLittle, 1, 'N'},
    {"colour_note", &NearNumbers::colour_note, 1, kLittle, kMuch, 'N'},
    {"foreign_note", &NearNumbers::foreign_note, 1, kLittle, kMuch, 'N'},
    {"foreign_root", &NearNumbers::foreign_root, 1, kLittle, kMuch, 'N'},
    {"wrong_third", &NearNumbers::wrong_third, 1, kLittle, kMuch, 'N'},
    {"unstable", &NearNumbers::unstable, 1, kLittle, kMuch, 'N'},
    {"no_third", &NearNumbers::no_third, 1, kLittle, kMuch, 'N'},
    {"seventh_on_one", &NearNumbers::seventh_on_one, 1, kLittle, kMuch, 'N'},
    {"smooth_on_blues", &NearNumbers::smooth_on_blues, 1, kLittle, kMuch, 'N'},
    {"duration", &KeyScores::duration, 0.5, kLittle, 1, 'K'},
    {"change", &KeyScores::change, 8, 1, kMuch, 'K'},
    {"at_section", &KeyScores::at_section, 1, 0.2, 1, 'W'},
    {"at_phrase", &KeyScores::at_phrase, 1, 0.2, 1, 'W'},
    {"inside_bar", &KeyScores::inside_bar, 1, 1, 3, 'W'},
    {"per_fifth", &KeyScores::per_fifth, 1, kLittle, kMuch, 'K'},
    {"away_share", &KeyScores::away_share, 8, kLittle, kMuch, 'K'},
    {"away", &KeyScores::away, 1, kLittle, kMuch, 'K'},
    {"minor", &KeyScores::minor, 1, kLittle, kMuch, 'E'},
    {"blues", &KeyScores::blues, 3, 1, kMuch, 'E'},
    {"first_chord", &KeyScores::first_chord, 3, kLittle, kMuch, 'E'},
    {"last_chord", &KeyScores::last_chord, 3, kLittle, kMuch, 'E'},
    {"blues_form", &KeyScores::blues_form, 3, kLittle, kMuch, 'E'},
    {"final_cadence", &KeyScores::final_cadence, 3, kLittle, kMuch, 'E'},
    {"turns_back", &KeyScores::turns_back, 3, kLittle, kMuch, 'E'},
    {"opens_section", &KeyScores::opens_section, 3, kLittle, kMuch, 'C'},
    {"rests", &KeyScores::rests, 3, kLittle, kMuch, 'C'},
    {"opens_phrase", &KeyScores::opens_phrase, 3, kLittle, kMuch, 'C'},
    {"dominant_tonic", &KeyScores::dominant_tonic, 0.5, kLittle, 1, 'C'},
    {"minor_seventh_tonic", &KeyScores::minor_seventh_tonic, 0.5, kLittle, 1, 'C'},
    {"fifth_cadence", &KeyScores::fifth_cadence, 3, kLittle, kMuch, 'C'},
    {"two_five_one", &KeyScores::two_five_one, 3, kLittle, kMuch, 'C'},
    {"two_five", &KeyScores::two_five, 1, kLittle, kMuch, 'C'},
    {"half_step_cadence", &KeyScores::half_step_cadence, 3, kLittle, kMuch, 'C'},
    {"backdoor", &KeyScores::backdoor, 3, kLittle, kMuch, 'C'},
    {"plagal", &KeyScores::plagal, 3, kLittle, kMuch, 'C'},
    {"triad_share", &KeyScores::triad_share, 0.5, kLittle, 1, 'C'},
    {"applied", &KeyScores::applied, 1, kLittle, kMuch, 'L'},
    {"related", &KeyScores::related, 1, kLittle, kMuch, 'L'},
    {"substitute", &KeyScores::substitute, 1, kLittle, kMuch, 'L'},
    {"diminished_up", &KeyScores::diminished_up, 1, kLittle, kMuch, 'L'},
    {"doubt", &KeyScores::doubt, 1, 0.1, 10, 'B'},
};
using Logs = std::array<double, std::size(kWeights)>;

double& value_of(Numbers& numbers, const Weight& weight) {
    if (const auto* of_scores = std::get_if<double KeyScores::*>(&weight.member))
        return numbers.scores.*(*of_scores);
    return numbers.near.*std::get<double NearNumbers::*>(weight.member);
}

Numbers numbers_of(const Logs& logs, bool by_levels) {
    Numbers out;
    out.by_levels = by_levels;
    for (std::size_t i = 0; i < logs.size(); ++i)
        value_of(out, kWeights[i]) = std::clamp(std::exp(logs[i]), kWeights[i].least, kWeights[i].most);
    return out;
}

double two_digits(double value) {
    const double unit = std::pow(10, std::floor(std::log10(value)) - 1);
    return std::round(value / unit) * unit;
}

// Changes a few weights at a time, by steps that grow while they help and shrink while they do not, and keeps
// what lowers the loss. The answer is the middle of where it stood in the last half, not the luckiest place.
class Search {
  public:
    Search(const std::vector<const KnownChart*>& charts, std::string_view kinds, unsigned seed)
        : charts_{charts}, random_{seed}, by_levels_{kinds.find('T') != std::string_view::npos} {
        for (std::size_t i = 0; i < start_.size(); ++i) {
            start_[i] = std::log(kWeights[i].neutral);
            if (kinds.find(kWeights[i].kind) != std::string_view::npos) free_.push_back(i);
        }
    }

    Numbers run(int trials) {
        // About four at a time.
        const auto one_in = static_cast<std::uint32_t>(std::max<std::size_t>(2, free_.size() / 4));
        Logs here = start_;
        double least = loss(here);
        Logs sum{};
        double step = 0.5;
        for (int trial = 0; trial < trials; ++trial) {
            Logs next = here;
            for (const std::size_t i : free_) {
                if (below(one_in) != 0) continue;
                next[i] = std::clamp(next[i] + step * bell(), std::log(kWeights[i].least),
                                     std::log(kWeights[i].most));
            }
            const double reached = loss(next);
            const bool helps = reached < least;
            if (helps) {
                least = reached;
                here = next;
            }
            step = std::clamp(step * (helps ? 1.3 : 0.96), 0.08, 0.8);
            if (trial < trials / 2) continue;
            for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += here[i] / (trials - trials / 2);
        }
        return numbers_of(trials > 0 ? sum : start_, by_levels_);
    }

  private:
    // To leave neutral ground has a price: what the charts do not clearly ask for stays as it is.
    double loss(const Logs& logs) const {
        constexpr double kPrice = 0.003;
        const KeyModel model = numbers_of(logs, by_levels_).model();
        Tally out;
        for (const KnownChart* chart : charts_) out.add(judge(*chart, model));
        double away = 0;
        for (std::size_t i = 0; i < logs.size(); ++i) away += (logs[i] - start_[i]) * (logs[i] - start_[i]);
        return out.loss() + kPrice * away;
    }

    // The standard library's distributions differ from one compiler to the next; these do not.
    std::uint32_t below(std::uint32_t n) { return static_cast<std::uint32_t>(random_()) % n; }
    double bell() {
        double sum = 0;
        for (int i = 0; i < 12; ++i) sum += static_cast<double>(random_()) / 4294967296.0;
        return sum - 6;
    }

    const std::vector<const KnownChart*>& charts_;
    std::mt19937 random_;
    bool by_levels_;
    Logs start_{};
    std::vector<std::size_t> free_;
};

}  // namespace

KeyModel Numbers::model() const {
    return {scores, by_levels ? key_model().places : place_costs(near)};
}

Numbers neutral_numbers() {
    Numbers out;
    for (const Weight& weight : kWeights) value_of(out, weight) = weight.neutral;
    return out;
}

Numbers shrunk_numbers(double share) {
    Numbers out;
    out.by_levels = true;
    for (const Weight& weight : kWeights) {
        double& value = value_of(out, weight);
        const bool is_share = weight.most <= 1;
        value = two_digits(is_share ? std::lerp(value, weight.neutral, share)
                                    : value * std::pow(weight.neutral / value, share));
    }
    return out;
}

Numbers fitted_numbers(const std::vector<const KnownChart*>& charts, std::string_view kinds, unsigned seed,
                       int trials) {
    return Search{charts, kinds, seed}.run(trials);
}

}  // namespace shedbook
