// Remembers which items the pieces of a book are, while the book is written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/job/caller.h"
#include "shedbook/log/pages.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

// Hands everything on.
class PiecesSeen : public BlockSink {
  public:
    // The tunes must live as long.
    PiecesSeen(const std::vector<Tune>& tunes, BlockSink& to) : tunes_{tunes}, to_{to} {}
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override { to_.finish(); }
    [[nodiscard]] const PrintedPages& pages() const { return pages_; }

  private:
    void see(const Drill& drill);
    void see(const Etude& etude);

    const std::vector<Tune>& tunes_;
    BlockSink& to_;
    PrintedPages pages_;
    std::string instrument_;
    std::optional<UnitHead> unit_;  // of this section
};

// Of a book that is there as a value.
[[nodiscard]] PrintedPages pages_of(const Document& document, const std::vector<Tune>& tunes);

// Into the data folder. Where that cannot be, it is said: the book itself is there.
void keep_pages(const std::vector<PrintedPages>& all, Caller& caller);

}  // namespace shedbook
