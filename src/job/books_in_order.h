// Books as they are printed: numbered from page to page.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/write/page_order.h"

namespace shedbook {

// The books of an ensemble, which have the same under the same numbers: in the order that the pages of the
// first one ask for.
class BooksInOrder {
  public:
    // Keeps all of them by reference.
    BooksInOrder(const std::vector<Tune>& tunes, std::span<const BookPart> parts, const BookOptions& options)
        : tunes_{tunes}, parts_{parts}, options_{options} {}

    // Of parts[which].
    [[nodiscard]] Document book(std::size_t which, Diagnostics& diagnostics);

  private:
    [[nodiscard]] Document as_assembled(std::size_t which, Diagnostics& diagnostics) const;

    const std::vector<Tune>& tunes_;
    std::span<const BookPart> parts_;
    const BookOptions& options_;
    std::optional<PageOrder> order_;
};

}  // namespace shedbook
