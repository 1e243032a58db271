#include "shedbook/harmony/units.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

#include "difficulty.h"
#include "unit_names.h"
#include "unit_patterns.h"

namespace shedbook {
namespace {

// A unit with its chords, wherever its row was.
struct Placed {
    FoundUnit found;
    const std::vector<UnitChord>* row = nullptr;
    UnitPlace place;
    std::set<int> own;                              // chords without the goal
    std::vector<std::pair<int, UnitFamily>> shape;  // half steps over the tonic of its key, and families
};

// The order in which of two units over the same chords the earlier is kept.
int rank_of(UnitKind kind) {
    switch (kind) {
        case UnitKind::BluesFrame:
        case UnitKind::KeyCycle:
        case UnitKind::Pedal:
        case UnitKind::ModalStretch:
            return 0;
        case UnitKind::Turnaround:
            return 1;
        case UnitKind::MajorTwoFiveOne:
        case UnitKind::MinorTwoFiveOne:
        case UnitKind::Backdoor:
            return 2;
        case UnitKind::DominantChain:
        case UnitKind::ChromaticDominants:
            return 3;
        case UnitKind::TwoFive:
            return 4;
        case UnitKind::DiminishedPassing:
        case UnitKind::LineCliche:
        case UnitKind::TriadsOverBass:
            return 5;
        case UnitKind::Substitute:
        case UnitKind::SecondaryDominant:
        case UnitKind::FiveOne:
        case UnitKind::Plagal:
            return 6;
        case UnitKind::LoneChord:
            return 7;
    }
    return 7;
}

// Chords that stand before the first of the unit in its bar: two and more of them are played with it.
std::vector<const UnitChord*> led_in_by(const FoundUnit& found, const std::vector<UnitChord>& row) {
    constexpr std::size_t kFewest = 2;
    std::vector<const UnitChord*> out;
    std::size_t i = found.first;
    while (i > 0 && row[i].follows && row[i - 1].first_bar == row[found.first].first_bar) --i;
    for (; i < found.first; ++i) out.push_back(&row[i]);
    if (out.size() < kFewest) out.clear();
    return out;
}

bool may_be_named(UnitKind kind) {
    return kind == UnitKind::MajorTwoFiveOne || kind == UnitKind::MinorTwoFiveOne ||
           kind == UnitKind::TwoFive;
}

// Its own name, where its kind says too little of what it is here.
void name_place(Placed& unit, const std::vector<UnitChord>& row, const std::vector<const Reading*>& chords) {
    const FoundUnit& found = unit.found;
    if (!may_be_named(found.kind)) return;
    const std::vector<const UnitChord*> before = led_in_by(found, row);
    if (!before.empty()) {
        std::vector<const Reading*> all;
        for (const UnitChord* chord : before) {
            const int tonic = found.key.tonic.semitone();
            unit.shape.emplace_back((chord->root - tonic + 12) % 12, chord->family);
            all.push_back(chord->readings.front());
        }
        for (std::size_t i = found.first; i <= found.last; ++i) all.push_back(row[i].readings.front());
        unit.place.name = chain_of(all);
        unit.place.named_in = unit.place.key;
        unit.place.here.clear();
        return;
    }
    const bool has_next = found.last + 1 < row.size() && row[found.last + 1].follows;
    const bool arrives = has_next && row[found.last + 1].root == found.key.tonic.semitone();
    if (found.kind != UnitKind::TwoFive || arrives) return;
    const std::optional<NameOfPlace> name = name_from_other_key(chords);
    if (!name) return;
    unit.place.name = name->name;
    unit.place.named_in = name->in;
    unit.place.here.clear();
}

Placed placed(const FoundUnit& found, const std::vector<UnitChord>& row) {
    Placed out{found, &row, {}, {}, {}};
    const UnitChord& first = row[found.first];
    const UnitChord& last = row[found.last];
    // A tonic that is reckoned from a dominant or a substitute may have the other name of the one that is
    // here.
    out.place.key = within_signatures(found.key);
    if (first.key().tonic.semitone() == found.key.tonic.semitone()) out.place.key.tonic = first.key().tonic;
    out.place.first_bar = (found.begins_in_last ? first.last_bar : first.first_bar) + 1;
    // Of its goal two bars at most.
    out.place.last_bar = (found.has_goal ? std::min(last.last_bar, last.first_bar + 1) : last.last_bar) + 1;
    // The last of chromatic dominants may begin what follows.
    const bool gives_last = found.has_goal || found.kind == UnitKind::ChromaticDominants;
    std::vector<const Reading*> chords;
    for (std::size_t i = found.first; i <= found.last; ++i) {
        const int tonic = found.key.tonic.semitone();
        out.shape.emplace_back((row[i].root - tonic + 12) % 12, row[i].family);
        for (const Reading* reading : row[i].readings) {
            out.place.chords.push_back(reading->inst);
            chords.push_back(reading);
            if (!gives_last || i < found.last) out.own.insert(reading->inst);
        }
    }
    out.place.here = what_it_is_here(found.kind, out.place.key, chords);
    name_place(out, row, chords);
    return out;
}

bool lies_within(const Placed& unit, const Placed& other) {
    std::set<int> chords{other.place.chords.begin(), other.place.chords.end()};
    // A goal may begin what follows: the line inside a minor chord, what the last of chromatic dominants
    // leads to.
    if (other.found.kind == UnitKind::ChromaticDominants || unit.found.kind == UnitKind::LineCliche)
        chords = other.own;
    return std::ranges::includes(chords, unit.own);
}

// What a frame does by itself is no unit of its own.
bool is_motion_of(const Placed& unit, const Placed& frame, bool is_major_blues) {
    if (!lies_within(unit, frame)) return false;
    switch (frame.found.kind) {
        case UnitKind::BluesFrame: {
            const bool is_to_four = unit.found.kind == UnitKind::SecondaryDominant && is_major_blues &&
                                    (*unit.row)[unit.found.first].root == frame.found.key.tonic.semitone();
            return is_to_four || unit.found.kind == UnitKind::Plagal ||
                   unit.found.kind == UnitKind::FiveOne || unit.found.kind == UnitKind::LoneChord ||
                   unit.found.kind == UnitKind::ModalStretch;
        }
        case UnitKind::KeyCycle:
            return unit.found.kind == UnitKind::FiveOne || unit.found.kind == UnitKind::SecondaryDominant;
        case UnitKind::Pedal:
        case UnitKind::ModalStretch:
            return unit.found.kind != UnitKind::MajorTwoFiveOne &&
                   unit.found.kind != UnitKind::MinorTwoFiveOne;
        default:
            return false;
    }
}

class UnitFinder {
  public:
    UnitFinder(const Chart& chart, const Analysis& analysis)
        : rows_{unit_chords(chart, analysis)}, costs_{bar_costs(chart, analysis, rows_)} {
        context_.home = chart.key.value_or(analysis.home);
        context_.is_blues = analysis.form == "blues";
        context_.is_modal = analysis.form == "modal";
        context_.bars_of_sections = &rows_.bars_of_sections;
    }

    TuneUnits find() {
        for (const std::vector<UnitChord>& row : rows_.rows) {
            for (const FoundUnit& found : find_units(row, context_)) add(placed(found, row));
        }
        drop_covered();
        add_lone_chords();
        std::ranges::stable_sort(kept_, {}, [](const Placed& unit) {
            return std::pair{unit.place.first_bar, unit.place.chords.front()};
        });
        TuneUnits out;
        for (Placed& unit : kept_) weigh(unit.place);
        for (const Placed& unit : kept_) unite(out.units, unit);
        for (std::size_t bar = 0; bar < costs_.size(); ++bar) {
            const int points = static_cast<int>(std::lround(costs_[bar].points));
            out.bars.push_back({static_cast<int>(bar) + 1, points, costs_[bar].why});
        }
        std::ranges::stable_sort(out.bars, std::ranges::greater{}, &BarDifficulty::difficulty);
        return out;
    }

  private:
    // A unit that another ending has as well counts once, as it was met first.
    void add(Placed unit) {
        const bool is_known = std::ranges::any_of(found_, [&](const Placed& other) {
            return other.found.kind == unit.found.kind && other.row != unit.row &&
                   other.place.chords.front() == unit.place.chords.front();
        });
        if (!is_known) found_.push_back(std::move(unit));
    }

    void drop_covered() {
        for (const Placed& unit : found_) {
            const bool is_covered = std::ranges::any_of(found_, [&](const Placed& other) {
                if (&other == &unit) return false;
                if (other.found.kind == unit.found.kind)
                    return other.own.size() > unit.own.size() && lies_within(unit, other);
                const int rank = rank_of(other.found.kind);
                if (rank == 0 && rank_of(unit.found.kind) != 0)
                    return is_motion_of(unit, other, is_major_blues(other));
                return rank > 0 && rank < rank_of(unit.found.kind) && lies_within(unit, other);
            });
            if (!is_covered) kept_.push_back(unit);
        }
    }

    static bool is_major_blues(const Placed& frame) {
        return (*frame.row)[frame.found.first].family == UnitFamily::Dominant;
    }

    void add_lone_chords() {
        constexpr int kLong = 2;      // bars
        constexpr int kVeryLong = 4;  // of a goal
        std::set<int> taken;
        std::set<int> goals;
        std::vector<const Placed*> frames;
        for (const Placed& unit : kept_) {
            if (rank_of(unit.found.kind) == 0 && unit.found.kind == UnitKind::KeyCycle) continue;
            taken.insert(unit.own.begin(), unit.own.end());
            if (unit.found.has_goal) goals.insert(unit.place.chords.back());
            // The chord after a turnaround is where it goes.
            const std::size_t after = unit.found.last + 1;
            if (unit.found.kind == UnitKind::Turnaround && after < unit.row->size())
                goals.insert((*unit.row)[after].readings.front()->inst);
        }
        for (const std::vector<UnitChord>& row : rows_.rows) {
            for (std::size_t i = 0; i < row.size(); ++i) {
                const int bars = row[i].last_bar - row[i].first_bar + 1;
                const int inst = row[i].readings.front()->inst;
                const bool is_goal = std::ranges::any_of(
                    row[i].readings, [&](const Reading* reading) { return goals.contains(reading->inst); });
                if (taken.contains(inst) || bars < (is_goal ? kVeryLong : kLong)) continue;
                taken.insert(inst);
                kept_.push_back(placed({UnitKind::LoneChord, i, i, false, false, row[i].key()}, row));
            }
        }
    }

    // The same kind with the same chords over its own key is one unit with several places.
    void unite(std::vector<PracticeUnit>& units, const Placed& unit) {
        for (std::size_t i = 0; i < units.size(); ++i) {
            const bool is_named_alike = units[i].places.front().name == unit.place.name;
            if (units[i].kind != unit.found.kind || shapes_[i] != unit.shape || !is_named_alike) continue;
            units[i].places.push_back(unit.place);
            return;
        }
        units.push_back({unit.found.kind, {unit.place}});
        shapes_.push_back(unit.shape);
    }

    // Its hardest bar two thirds, the mean of its bars one third.
    void weigh(UnitPlace& place) const {
        const auto first = costs_.begin() + place.first_bar - 1;
        const auto end = costs_.begin() + place.last_bar;
        const auto hardest = std::max_element(
            first, end, [](const BarCost& a, const BarCost& b) { return a.points < b.points; });
        const double sum =
            std::accumulate(first, end, 0.0, [](double all, const BarCost& bar) { return all + bar.points; });
        place.difficulty =
            static_cast<int>(std::lround((2 * hardest->points + sum / static_cast<double>(end - first)) / 3));
        place.why = hardest->why;
    }

    UnitRows rows_;
    std::vector<BarCost> costs_;
    UnitContext context_;
    std::vector<Placed> found_;
    std::vector<Placed> kept_;
    std::vector<std::vector<std::pair<int, UnitFamily>>> shapes_;  // of the units
};

}  // namespace

const UnitPlace& PracticeUnit::hardest_place() const {
    return *std::ranges::max_element(places, {}, &UnitPlace::difficulty);
}

TuneUnits units_of(const Chart& chart, const Analysis& analysis) {
    return UnitFinder{chart, analysis}.find();
}

}  // namespace shedbook
