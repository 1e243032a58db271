// What every maker of a simple line works with.
#pragma once

#include "dice.h"
#include "levels.h"
#include "shedbook/etude/etude.h"
#include "shedbook/theory/concert_line.h"

namespace shedbook {

class LineMaker {
  public:
    LineMaker(const EtudeGround& ground, const EtudeRequest& request, PitchRange range)
        : ground_{ground},
          request_{request},
          level_{etude_level(request)},
          range_{range_at(level_, range)},
          dice_{request.seed} {}

  protected:
    const EtudeGround& ground_;
    const EtudeRequest& request_;
    const EtudeLevel& level_;
    PitchRange range_;
    Dice dice_;
    ConcertLine line_;
};

}  // namespace shedbook
