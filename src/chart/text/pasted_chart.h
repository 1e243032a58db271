// Charts as people paste them from elsewhere: chords without bar lines, section words without brackets, a
// bare title, words of a song between, notes behind # and //, German names. What is not a chart of ours is
// written as one, line for line, and each kind of change is said once.
//
//     const std::optional<SourceText> ours = as_our_chart(source, diagnostics);
#pragma once

#include <optional>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"

namespace shedbook {

// Nothing where the text needs no change.
[[nodiscard]] std::optional<SourceText> as_our_chart(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
