// An address as a picture of squares on a terminal, for the camera of a tablet (ISO/IEC 18004, made by
// libqrencode).
#pragma once

#include <string>

namespace shedbook {

// Lines of half blocks, black on white whatever the terminal's colours are, with the quiet margin of four
// squares; empty if the text is too long for a code (some 1,200 letters).
[[nodiscard]] std::string qr_code(const std::string& text);

}  // namespace shedbook
