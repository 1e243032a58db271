// How an instrument is handled, from templates/handling.toml and its fingerings.
#pragma once

#include "shedbook/etude/handling.h"
#include "shedbook/notation/instrument.h"

namespace shedbook {

[[nodiscard]] Handling handling_of(const Instrument& instrument);

}  // namespace shedbook
