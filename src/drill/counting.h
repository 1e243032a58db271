// Which rung of a ladder a number in a cell means.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "shedbook/drill/drill_template.h"
#include "shedbook/drill/ladder.h"

namespace shedbook {

class Counting {
  public:
    Counting(const DrillTemplate& drill, const ScaleLadder& ladder);
    // False: some degree is missing over some note, so the numbers count the notes of the scale.
    [[nodiscard]] bool by_degrees() const { return by_degrees_; }
    // The cell as it is over this rung: on the root of a sus chord its third is the fourth.
    [[nodiscard]] const DrillCell& over(int base, const DrillCell& cell) const;
    // The rung that `steps` mean over another one. `of_chord`: on the root of the chord, 3, 5 and 7 are its
    // own.
    [[nodiscard]] int rung(int base, int steps, bool of_chord) const;

  private:
    using Row = std::array<int, 7>;  // rungs over a rung; kNone
    [[nodiscard]] bool has_all(const DrillTemplate& drill) const;
    [[nodiscard]] bool is_root(int base) const { return has_root_ && base % size_ == 0; }

    int size_;
    bool has_root_ = false;
    bool by_degrees_ = false;
    std::vector<Row> rows_;  // by rung; empty: as many rungs as steps
    Row on_root_{};
    std::vector<std::pair<const DrillCell*, DrillCell>> sus_cells_;
};

}  // namespace shedbook
