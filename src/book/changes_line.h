// The line through the changes of a tune, as it is played.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "shedbook/book/book.h"

namespace shedbook {

// The line of parts[which]: all parts play the same notes, each in octaves of its own. Nothing if there is no
// chord to play on in the bars asked for.
[[nodiscard]] std::optional<WrittenMusic> changes_line(const Tune& tune, std::span<const BookPart> parts,
                                                       std::size_t which, const BookOptions& options);

// The widest window that, moved by octaves, lies in every one of the ranges, where it lies for ranges[which]:
// as near the middle as can be. The range itself if it is alone, or if not even an octave fits all.
[[nodiscard]] PitchRange common_window(const std::vector<PitchRange>& ranges, std::size_t which);

}  // namespace shedbook
