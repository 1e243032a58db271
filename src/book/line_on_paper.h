// A line through the changes of a tune, written down for a part: what etudes and phrases have in common.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/book/etude.h"

namespace shedbook {

// The part of the range that reads and speaks well, if it is no narrower than so many semitones.
[[nodiscard]] PitchRange comfortable_range(const BookPart& part, int narrowest);

struct LineFrame {
    Prefer prefer = Prefer::Fewest;
    int level = 4;                  // who begins reads the names of the key
    std::vector<bool> starts = {};  // the bars that begin lines; none: four bars a line
    // What the left hand plays; null: where it has a staff, the same below (left_hand.h).
    const ConcertLine* left = nullptr;
    // In the row of fingerings under each chord that is struck; none: what the part has there.
    std::span<const std::string> frets = {};
};
[[nodiscard]] WrittenMusic line_on_paper(const ConcertLine& line, const Tune& tune, const EtudeGround& ground,
                                         const BookPart& part, const LineFrame& frame);

// For the part that it is hardest for: all play together.
struct PartLine {
    const BookPart* part;
    ConcertLine line;
};
[[nodiscard]] TempoBoxes boxes_for(const std::vector<PartLine>& lines, const Tune& tune,
                                   const EtudeGround& ground, int level, const EtudeBoxes& boxes);
// Where the boxes stay below the tempo over the music, that is the tune's.
void say_whose_tempo(Etude& etude);

}  // namespace shedbook
