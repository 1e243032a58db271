// The parts that a request is for.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/job/requests.h"

namespace shedbook {

// One part for each instrument, each once. Words among the instruments that are tunes go to `tunes`, where
// there is one (a command line cannot always tell where the list of instruments ends).
[[nodiscard]] std::vector<BookPart> parts_of(const PartRequest& request, std::vector<std::string>* tunes,
                                             Caller& caller);

}  // namespace shedbook
