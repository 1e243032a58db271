// Music as a page draws it: MusicXML of one piece, with nothing around it.
#pragma once

#include <string>

#include "shedbook/notation/pieces.h"

namespace shedbook {

[[nodiscard]] std::string musicxml_of(const Document& document);
// One of its pieces without number, title and boxes, which the page sets itself.
[[nodiscard]] std::string musicxml_of(const DocumentHead& head, const std::vector<WrittenMusic>& music);

}  // namespace shedbook
