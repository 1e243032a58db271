// Text of a file brought to UTF-8.
#pragma once

#include <optional>
#include <string>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// UTF-8 text of a document, XML or not, in UTF-8, UTF-16 (with or without byte order mark), Latin-1 or
// Windows-1252, by its mark or its own declaration. Nothing, with an error, for other encodings.
[[nodiscard]] std::optional<std::string> to_utf8(const std::string& name, const std::string& bytes,
                                                 Diagnostics& diagnostics);

}  // namespace shedbook
