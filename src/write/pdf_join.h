// Pages of several PDF files made into one book: joined, with an outline, links from page to page, and what
// the book is called.
#pragma once

#include <string>
#include <vector>

#include "engraver_text.h"

namespace shedbook {

struct PdfPages {  // of a file, from 1
    std::string path;
    int first = 1;
    int count = 0;
    bool takes_stamp = false;
};

// What stands before the page in a link to a page of the whole book: "shedbook:page/7".
inline constexpr const char* kPageOfBook = "shedbook:page/";

// The bytes of the joined file; the same input gives the same bytes. Marks and links to pages that are not
// there are left out. `stamps`: two pages, laid over the odd and the even ones of the pieces that take it.
// FileError if a file is no PDF or has not the pages.
[[nodiscard]] std::string joined_pdf(const std::vector<PdfPages>& pieces, const EngraverText& book,
                                     const PdfPages* stamps = nullptr);

}  // namespace shedbook
