// The order in which the sections of a book stand on its pages. A book that is in it is numbered from page to
// page, whatever paper or format it is written on.
//
//     const PageOrder order = page_order(leading);             // of the first book of an ensemble
//     hand_over(in_page_order(book, order), sink);             // of each of them
#pragma once

#include <vector>

#include "shedbook/notation/pieces.h"

namespace shedbook {

// Numbers of the sections of a document, as it has them.
using PageOrder = std::vector<int>;

// On A4. In a book of units a set of notes stays as near behind the section that it follows as the pages
// allow, and where a unit would turn overleaf, another page comes before it; other documents keep their
// order.
[[nodiscard]] PageOrder page_order(const Document& document);

// The sections in that order, their numbers rising, and all that refers to them. What stands around them
// keeps its place. Of a document with other sections than those in `order`: as it is.
[[nodiscard]] Document in_page_order(Document document, const PageOrder& order);

}  // namespace shedbook
