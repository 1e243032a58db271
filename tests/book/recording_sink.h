// A sink that keeps every block, for tests.
#pragma once

#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/notation/document.h"

namespace shedbook {

class RecordingSink : public BlockSink {
  public:
    void begin(const DocumentHead& given) override { document = given; }
    void take(const Block& block) override { blocks.push_back(block); }
    void finish() override { finished = true; }

    [[nodiscard]] std::vector<const WrittenMusic*> music() const;
    [[nodiscard]] std::vector<const ChordHead*> chord_heads() const;

    DocumentHead document;
    std::vector<Block> blocks;
    bool finished = false;
};

// A tune typed as a text chart, unfolded and analysed; the text must be right.
[[nodiscard]] Tune tune_of(const std::string& text);

}  // namespace shedbook
