// The line through the changes of a tune, as it is played.
#pragma once

#include <optional>

#include "shedbook/book/book.h"

namespace shedbook {

// Nothing if there is no chord to play on in the bars asked for.
[[nodiscard]] std::optional<WrittenMusic> changes_line(const Tune& tune, const BookPart& part,
                                                       const BookOptions& options);

}  // namespace shedbook
