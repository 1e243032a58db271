// The kinds of units, each found by a rule of its own.
#pragma once

#include <cstddef>
#include <vector>

#include "shedbook/harmony/units.h"
#include "unit_chords.h"

namespace shedbook {

// A unit among the chords of a row, both ends in.
struct FoundUnit {
    UnitKind kind = UnitKind::LoneChord;
    std::size_t first = 0;
    std::size_t last = 0;
    bool has_goal = false;        // the last chord is what it arrives in
    bool begins_in_last = false;  // of its first chord only the end belongs to it
    Key key;
};

struct UnitContext {
    Key home;
    bool is_blues = false;
    bool is_modal = false;
    const std::vector<int>* bars_of_sections = nullptr;
};

// Every unit of a row but lone chords, in no order; some lie within others.
[[nodiscard]] std::vector<FoundUnit> find_units(const std::vector<UnitChord>& row,
                                                const UnitContext& context);

}  // namespace shedbook
