// The parts that a request is for.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// One part for each instrument, each once.
[[nodiscard]] std::vector<BookPart> parts_of(const PartRequest& request, Caller& caller);

}  // namespace shedbook
