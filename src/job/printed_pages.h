// Which items the pieces of a book are.
#pragma once

#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/log/pages.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

// The tunes: those of the book.
[[nodiscard]] PrintedPages pages_of(const Document& document, const std::vector<Tune>& tunes);

// Into the data folder. Where that cannot be, it is said: the book itself is there.
void keep_pages(const std::vector<PrintedPages>& all, Caller& caller);

}  // namespace shedbook
