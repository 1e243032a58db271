// How an instrument is handled, from templates/handling.toml and its fingerings.
#pragma once

#include "shedbook/etude/handling.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {

// At a level, 1 to 6.
[[nodiscard]] Handling handling_of(const Instrument& instrument, int level = 4);

}  // namespace shedbook
