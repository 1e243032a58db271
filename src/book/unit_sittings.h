// What a book by units has in each sitting of a plan, or in all where there is none: units, scales and lines
// on the whole form.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

#include "note_sets.h"
#include "shedbook/book/plan.h"
#include "unit_pieces.h"

namespace shedbook {

struct UnitSitting {
    struct OnUnit {
        std::size_t unit;  // index, the hardest first
        bool shows_bars;
        std::vector<Etude> lines;
        int number = 0;  // of its section
    };
    struct OnNotes {
        std::size_t set;  // index
        std::vector<Drill> drills;
        std::size_t behind = SIZE_MAX;  // so many of the sitting's units: the last is the first that needs it
        int number = 0;
    };
    std::optional<SittingStart> start;  // nothing: the book has no plan
    Memory memory = Memory::None;
    std::vector<std::string> drills = {};  // titles, of what is done with scales
    std::vector<OnUnit> units = {};
    std::vector<OnNotes> notes = {};
    std::vector<Etude> form = {};

    // Its units in their order, each with the sets of notes that it is the first to need behind it.
    using Section = std::variant<OnUnit*, OnNotes*>;
    [[nodiscard]] std::vector<Section> sections();
    // Numbers its sections and pieces, each one more than the one before.
    void number_from(int& last);
};

// Which units each sitting of the plan takes, as indices of `units` from the hardest one; with no unit there,
// none. Those that say `next` and no number share what is left evenly, so that every unit has its turn; where
// none is left they begin again.
[[nodiscard]] std::vector<std::vector<std::size_t>> units_of_sittings(const BookPlan& plan,
                                                                      std::size_t units);

class UnitSittingMaker {
  public:
    // Keeps all of them by reference.
    UnitSittingMaker(const Tune& tune, const Ensemble& ensemble, const BookOptions& options,
                     DrillSectionMaker& sections, Diagnostics& diagnostics)
        : tune_{tune},
          ensemble_{ensemble},
          options_{options},
          sections_{sections},
          diagnostics_{diagnostics} {}

    [[nodiscard]] std::vector<UnitSitting> make(const BookPlan& plan,
                                                const std::vector<const PracticeUnit*>& units,
                                                const std::vector<NoteSet>& sets);

  private:
    [[nodiscard]] UnitSitting sitting_of(const Sitting& sitting, const std::vector<std::size_t>& chosen);
    void add_units(UnitSitting& out, const Sitting& sitting, const std::vector<std::size_t>& chosen,
                   const BookOptions& options);
    void add_notes(UnitSitting& out, const Sitting& sitting, const std::vector<std::size_t>& chosen,
                   const BookOptions& options);
    [[nodiscard]] std::vector<std::string> lines_for(const Sitting& sitting, std::size_t unit) const;
    [[nodiscard]] bool belongs_to(const NoteSet& set, const std::vector<std::size_t>& chosen) const;

    const Tune& tune_;
    const Ensemble& ensemble_;
    const BookOptions& options_;
    DrillSectionMaker& sections_;
    Diagnostics& diagnostics_;
    const std::vector<const PracticeUnit*>* units_ = nullptr;
    const std::vector<NoteSet>* sets_ = nullptr;
    std::vector<bool> shown_;                      // units whose bars stand in an earlier sitting
    std::vector<bool> drilled_;                    // sets of notes that an earlier sitting has
    std::vector<std::vector<std::string>> known_;  // kinds of line that an earlier sitting has of each unit
};

}  // namespace shedbook
