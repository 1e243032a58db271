// A MusicXML document before a tree is made of it: brought to UTF-8, and looked through for what would blow
// the tree up.
#pragma once

#include <optional>
#include <string>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// UTF-8 text of a document, XML or not, in UTF-8, UTF-16 (with or without byte order mark), Latin-1 or Windows-1252, by
// its mark or its own declaration. Nothing, with an error, for other encodings.
[[nodiscard]] std::optional<std::string> to_utf8(const std::string& name, const std::string& bytes,
                                                 Diagnostics& diagnostics);

// Whether the text may be given to the parser: no internal DTD subset (entities that expand without end), no
// deeper nesting and no more nodes than the limits allow. One pass, no memory.
[[nodiscard]] bool is_safe_xml(const SourceText& source, Diagnostics& diagnostics);

}  // namespace shedbook
