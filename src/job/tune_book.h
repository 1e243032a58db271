// A book on a screen of a tune that is loaded already.
#pragma once

#include "shedbook/job/jobs.h"

namespace shedbook {

// As open_book; the request names no tune.
[[nodiscard]] BookOnScreen open_book_of(const Tune& tune, BookRequest request, Caller& caller);

}  // namespace shedbook
