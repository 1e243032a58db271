#include "unit_choice.h"

#include <algorithm>
#include <numeric>

#include "blues_pages.h"
#include "shedbook/base/grade.h"

namespace shedbook {
namespace {

constexpr std::size_t kFewUnits = 2;
constexpr int kLongestUnit = 8;  // bars; what is longer is practised with the form

using UnitList = std::vector<const PracticeUnit*>;

class UnitChooser {
  public:
    UnitChooser(const UnitPieces& pieces, const BookOptions& options) : pieces_{pieces}, options_{options} {}

    [[nodiscard]] UnitChoice choose(const TuneUnits& all, std::size_t most_openings) {
        UnitList units;
        UnitList lone;
        for (const PracticeUnit& unit : all.units) {
            const UnitPlace& place = pieces_.drilled_place(unit);
            const bool is_short =
                place.last_bar - place.first_bar < kLongestUnit || unit.kind == UnitKind::BluesFrame;
            if (unit.kind == UnitKind::LoneChord) {
                if (is_short) lone.push_back(&unit);
            } else {
                (is_short ? units : out_.left_out).push_back(&unit);
            }
        }
        // Where hardly a chord leads on, the way into one that stands alone is what there is to practise.
        if (units.size() < kFewUnits && all.units.size() > 1)
            units.insert(units.end(), lone.begin(), lone.end());
        std::ranges::stable_sort(units, std::ranges::greater{}, [&](const PracticeUnit* unit) {
            return pieces_.drilled_place(*unit).difficulty;
        });
        out_.openings = std::min(openings_for(units), most_openings);
        // Who begins does so with what is easy.
        if (is_for_beginners(options_)) std::ranges::reverse(units);
        // Two facing pages, and then single ones.
        const auto last = units.begin() + static_cast<std::ptrdiff_t>(out_.openings);
        if (options_.plan == nullptr && !is_for_beginners(options_))
            std::stable_partition(units.begin(), last, [&](const PracticeUnit* unit) {
                return !pieces_.other_keys(*unit).empty();
            });
        if (options_.plan != nullptr) put_most_played_second(units);
        if (options_.plan == nullptr && is_blues(all)) {
            put_blues_first(units);
            out_.openings = std::min(units.size(), most_openings);
        }
        for (const PracticeUnit* unit : units) add(*unit);
        return std::move(out_);
    }

  private:
    // Those that are hard; where none is, those that are not easy; and one at least. The hardest come first.
    [[nodiscard]] std::size_t openings_for(const UnitList& units) const {
        for (const Grade least : {Grade::Hard, Grade::Light}) {
            const auto count = std::ranges::count_if(units, [&](const PracticeUnit* unit) {
                return grade_of(pieces_.drilled_place(*unit).difficulty) >= least;
            });
            if (count > 0) return static_cast<std::size_t>(count);
        }
        return std::min<std::size_t>(units.size(), 1);
    }

    // A plan may have time for two: the hardest, and what the tune says most often.
    static void put_most_played_second(UnitList& units) {
        if (units.size() < 2) return;
        const auto bars_in_all = [](const PracticeUnit* unit) { return bars_of_all_places(*unit).size(); };
        const auto most = std::ranges::max_element(units, {}, bars_in_all);
        if (most > units.begin() + 1) std::rotate(units.begin() + 1, most, most + 1);
    }

    // What lies within another is drilled there.
    void add(const PracticeUnit& unit) {
        const auto bars = pieces_.bars_to_play(unit);
        const auto holds_it = [&](const UnitChoice::Chosen& other) {
            const auto others = pieces_.bars_to_play(*other.unit);
            return others.first <= bars.first && bars.second <= others.second;
        };
        const auto is_part = [&](const UnitChoice::Chosen& other) { return is_bar_of(*other.unit, unit); };
        if (const auto whole = std::ranges::find_if(out_.chosen, holds_it); whole != out_.chosen.end()) {
            if (whole->unit->kind != unit.kind && pieces_.bars_to_play(*whole->unit) == bars)
                whole->also.push_back(&unit);
        } else if (const auto part = std::ranges::find_if(out_.chosen, is_part); part != out_.chosen.end()) {
            *part = {&unit};
        } else {
            out_.chosen.push_back({&unit});
        }
    }

    // A bar is too little to be practised alone where it goes on.
    [[nodiscard]] bool is_bar_of(const PracticeUnit& part, const PracticeUnit& whole) const {
        const auto [first, last] = pieces_.bars_to_play(part);
        const auto bars = pieces_.bars_to_play(whole);
        return first == last && bars.first <= first && last <= bars.second &&
               part.places.size() <= whole.places.size();
    }

    const UnitPieces& pieces_;
    const BookOptions& options_;
    UnitChoice out_;
};

}  // namespace

std::set<int> bars_of_all_places(const PracticeUnit& unit) {
    std::set<int> out;
    for (const UnitPlace& place : unit.places) {
        for (int bar = place.first_bar; bar <= place.last_bar; ++bar) out.insert(bar);
    }
    return out;
}

std::vector<std::size_t> by_bars_served(const UnitChoice& choice, bool is_for_beginners) {
    std::vector<std::size_t> left(choice.chosen.size());
    std::iota(left.begin(), left.end(), 0);
    if (is_for_beginners) return left;
    std::vector<std::size_t> out;
    std::set<int> served;
    while (!left.empty()) {
        const auto gain = [&](std::size_t unit) {
            const std::set<int> bars = bars_of_all_places(*choice.chosen[unit].unit);
            return std::ranges::count_if(bars, [&](int bar) { return !served.contains(bar); });
        };
        const auto next =
            out.size() < choice.openings ? left.begin() : std::ranges::max_element(left, {}, gain);
        served.merge(bars_of_all_places(*choice.chosen[*next].unit));
        out.push_back(*next);
        left.erase(next);
    }
    return out;
}

UnitChoice choose_units(const TuneUnits& units, const UnitPieces& pieces, const BookOptions& options,
                        std::size_t most_openings) {
    return UnitChooser{pieces, options}.choose(units, most_openings);
}

}  // namespace shedbook
