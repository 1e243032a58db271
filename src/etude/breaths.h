// Where a player breathes: behind the long note that ends a phrase, before the pickup of the next one.
//
//     add_breaths(line, ground, {.longest = on_one_breath(line, ground, request), .makes_rests = true});
#pragma once

#include "shedbook/etude/etude.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

struct BreathRules {
    Duration longest;  // that is played on one breath
    // The end of a phrase gives of its time: a long one ends on the last beat within it, of short ones the
    // last is left out; a quarter has a mark. Else a mark stands there.
    bool makes_rests = false;
    // Some bars of a tune: a phrase begins where they begin anew, not with a section.
    bool is_passage = false;
};

// What is played on one breath: about eight seconds at the slowest tempo to tick, a bar at least and four at
// most (common practice, no source).
[[nodiscard]] Duration on_one_breath(const ConcertLine& line, const EtudeGround& ground,
                                     const EtudeRequest& request);

// Rests of an eighth are breaths already. No breath is inside a beat of three, between an approach note or an
// enclosure and its target, or between short notes and the long one that they lead to.
void add_breaths(ConcertLine& line, const EtudeGround& ground, const BreathRules& rules);

}  // namespace shedbook
