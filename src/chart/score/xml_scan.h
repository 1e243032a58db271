// A MusicXML document before a tree is made of it, looked through for what would blow the tree up.
#pragma once

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// Whether the text may be given to the parser: no internal DTD subset (entities that expand without end), no
// deeper nesting and no more nodes than the limits allow. One pass, no memory.
[[nodiscard]] bool is_safe_xml(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
