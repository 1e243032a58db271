// What is wrong with a chord symbol, in words for the person who typed it.
#pragma once

#include "chord_symbol_parser.h"
#include "shedbook/base/diagnostics.h"

namespace shedbook {

// `where` is the place of the symbol in the source; the failure counts from its beginning.
void report(const Failure& failure, const SourceText& source, Span where, Diagnostics& diagnostics);

}  // namespace shedbook
