// The pieces of a document: finding them among its blocks, keeping some, counting bars, keeping it all.
//
//     Recorder recorder;                                       // keeps a document
//     PieceFilter only{[](const Block& b) { return number_of(b) == PieceNumber{2, 3}; }, recorder};
//     assemble(only);                                          // 2.3 and the head of section 2
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "shedbook/notation/document.h"

namespace shedbook {

// The music of a piece, one for each part; null for blocks that are none.
[[nodiscard]] const std::vector<WrittenMusic>* music_of(const Block& block);
// Of drills and etudes, which have numbers; nothing for other blocks.
[[nodiscard]] std::optional<PieceNumber> number_of(const Block& block);
// Of drills and etudes; empty for other blocks, and where there is nothing to tick.
[[nodiscard]] TempoBoxes boxes_of(const Block& block);

// A document as a value.
struct Document {
    DocumentHead head;
    std::vector<Block> blocks;
};

class Recorder : public BlockSink {
  public:
    void begin(const DocumentHead& head) override { document = {head, {}}; }
    void take(const Block& block) override { document.blocks.push_back(block); }
    void finish() override { is_finished = true; }

    Document document;
    bool is_finished = false;
};
[[nodiscard]] Document recorded(const std::function<void(BlockSink&)>& assemble);
void hand_over(const Document& document, BlockSink& sink);

// Hands on the pieces that are wanted, each in its section, and nothing that stands around them. A section
// without a wanted piece goes too.
class PieceFilter : public BlockSink {
  public:
    using Wanted = std::function<bool(const Block& piece)>;
    PieceFilter(Wanted wanted, BlockSink& to) : wanted_{std::move(wanted)}, to_{to} {}
    void begin(const DocumentHead& head) override { to_.begin(head); }
    void take(const Block& block) override;
    void finish() override { to_.finish(); }

  private:
    Wanted wanted_;
    BlockSink& to_;
    std::optional<SectionStart> section_;  // until a piece of it is handed on
    bool is_section_open_ = false;
};

// Hands everything on and counts the bars of the pieces, those of the first part; the changes by themselves
// are no piece to practise.
class BarCount : public BlockSink {
  public:
    explicit BarCount(BlockSink& to) : to_{to} {}
    void begin(const DocumentHead& head) override { to_.begin(head); }
    void take(const Block& block) override;
    void finish() override { to_.finish(); }
    [[nodiscard]] int bars() const { return bars_; }

  private:
    BlockSink& to_;
    int bars_ = 0;
};

}  // namespace shedbook
