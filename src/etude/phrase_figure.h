// A figure of a phrase as it is typed: "1/4 3 5 1/8 b9 7 1/4 r".
#pragma once

#include <string_view>

#include "shedbook/drill/pattern.h"
#include "shedbook/etude/phrase.h"

namespace shedbook {

// False, with what is wrong and where, if the text is no figure.
[[nodiscard]] bool read_figure(std::string_view text, PhraseFigure& out, PatternFault& fault);

}  // namespace shedbook
