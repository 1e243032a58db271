// A document in the engraver's language: parts that can be set each by itself.
#pragma once

#include <limits>
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
};

// An entry of the outline that a reader on a screen has beside the pages.
struct PageMark {
    std::string title;
    int page = 1;
};

struct EngraverText {
    std::string preamble;  // before all of them
    std::vector<EngraverPart> parts;
    std::vector<PageMark> marks;  // in the order of their pages
    std::string title;
    std::string author;  // empty: not known
    int pages = 0;       // that are planned; 0: as many as it takes
    [[nodiscard]] std::string whole() const {
        std::string out = preamble;
        for (const EngraverPart& part : parts) out += part.text;
        return out;
    }
};

}  // namespace shedbook
