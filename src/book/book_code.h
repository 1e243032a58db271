// The short code of a book, by which a log knows its pieces: made from everything that decides which pieces a
// book has under which numbers. The same request gives the same code, on any machine.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"

namespace shedbook {

// Six letters and digits that nobody mistakes for each other: no I, O, 0 or 1.
[[nodiscard]] std::string code_of(const std::vector<Tune>& tunes, std::span<const BookPart> parts,
                                  std::size_t which, const BookOptions& options);

}  // namespace shedbook
