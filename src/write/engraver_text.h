// A document in the engraver's language: parts that can be set each by itself.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace shedbook {

// Of a part whose plan cannot be loosened.
inline constexpr int kNoKey = std::numeric_limits<int>::min();

// Some pages that belong together.
struct EngraverPart {
    int key = kNoKey;  // among the faults
    int first_page = 1;
    int pages = 0;  // 0: as many as it takes
    std::string text;
    bool has_foot = true;
};

// An entry of the outline that a reader on a screen has beside the pages.
struct PageMark {
    std::string title;
    int page = 1;
};

struct EngraverText {
    std::string preamble;  // before all of them
    // What differs from book to book and yet stands at the foot of every page: in words that follow the
    // preamble, and as two pages, odd and even, with nothing else. A part that is set without the words and
    // has such a page laid over it need not be set again in another book.
    std::string foot;
    std::optional<EngraverPart> stamps;
    std::vector<EngraverPart> parts;
    std::vector<PageMark> marks;  // in the order of their pages
    std::string title;
    std::string author;  // empty: not known
    int pages = 0;       // that are planned; 0: as many as it takes
    [[nodiscard]] std::string whole() const {
        std::string out = preamble + foot;
        for (const EngraverPart& part : parts) out += part.text;
        return out;
    }
};

}  // namespace shedbook
