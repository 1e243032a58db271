// The form map of a tune: see notation/form_map.h.
#pragma once

#include "shedbook/book/book.h"
#include "shedbook/notation/form_map.h"

namespace shedbook {

// As written, not as played: each written bar once, four bars a phrase, a new phrase at each section.
[[nodiscard]] FormMap map_of_tune(const Tune& tune);

}  // namespace shedbook
