// How a score of several parts lies on its pages: the height of its staves, and lines and pages that break at
// the same bars in every part.
//
//     ScoreLayout layout{parts.size()};
//     layout.lay_out(drill.music);                             // piece after piece
#pragma once

#include <cstddef>
#include <vector>

#include "shedbook/notation/written_music.h"

namespace shedbook {

// Height of a staff, in tenths of a millimetre, that leaves a page of A4 enough room for so many parts.
[[nodiscard]] int staff_height(std::size_t parts);

class ScoreLayout {
  public:
    explicit ScoreLayout(std::size_t parts);
    // `music`: a piece, one for each part and of as many bars in each. A piece that one page holds is not
    // torn in two.
    void lay_out(std::vector<WrittenMusic>& music);

  private:
    int systems_a_page_;
    int room_;  // systems left on the page at hand
    bool is_first_ = true;
};

}  // namespace shedbook
