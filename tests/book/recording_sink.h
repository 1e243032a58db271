// A sink that keeps every block, for tests.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

class RecordingSink : public Recorder {
  public:
    // Blocks of one kind, in order.
    template <class Kind>
    [[nodiscard]] std::vector<const Kind*> all() const {
        std::vector<const Kind*> out;
        for (const Block& block : document.blocks) {
            if (const auto* found = std::get_if<Kind>(&block)) out.push_back(found);
        }
        return out;
    }
    // Of drills, etudes and lead sheets; the changes aside.
    [[nodiscard]] std::vector<const WrittenMusic*> music() const;
    // Sections on a chord or a scale.
    [[nodiscard]] std::vector<const TopicHead*> heads() const;
};

// The part of an instrument in its practical range.
[[nodiscard]] BookPart part(const char* instrument);

// A tune typed as a text chart, unfolded and analysed; the text must be right.
[[nodiscard]] Tune tune_of(const std::string& text);
// Every text chart that ships.
[[nodiscard]] std::vector<Tune> sample_tunes();

}  // namespace shedbook
