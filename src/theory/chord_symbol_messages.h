// What is wrong with a chord symbol, in words for the person who typed it.
#pragma once

#include "chord_symbol_parser.h"
#include "shedbook/base/diagnostics.h"

namespace shedbook {

// `where` is the place of the symbol in the source; the failure counts from its beginning.
void report(const Failure& failure, const SourceText& source, Span where, Diagnostics& diagnostics);
// "Bbb9" may be B double flat with a 9 or Bb with a flat 9: it is read as the first, and said; likewise
// "Gx7", which may be a slip of the finger.
void warn_of_double_root(const ChordSymbol& symbol, const SourceText& source, Span where,
                         Diagnostics& diagnostics);

}  // namespace shedbook
