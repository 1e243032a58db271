#include "books_in_order.h"

#include <utility>

namespace shedbook {

Document BooksInOrder::book(std::size_t which, Diagnostics& diagnostics) {
    Document out = as_assembled(which, diagnostics);
    if (!order_) {
        Diagnostics said_with_the_first;
        order_ = page_order(which == 0 ? out : as_assembled(0, said_with_the_first));
    }
    return in_page_order(std::move(out), *order_);
}

Document BooksInOrder::as_assembled(std::size_t which, Diagnostics& diagnostics) const {
    return recorded(
        [&](BlockSink& sink) { assemble_book(tunes_, parts_, which, options_, sink, diagnostics); });
}

}  // namespace shedbook
