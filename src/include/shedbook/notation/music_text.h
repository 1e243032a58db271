// Words about music as they are printed: real flats and sharps in place of letters.
#pragma once

#include <string>
#include <string_view>

namespace shedbook {

// "Bb altered" as "B♭ altered", "b9 #11" as "♭9 ♯11": after a note name, or before a figure. Other letters
// stay.
[[nodiscard]] std::string with_signs(std::string_view text);

}  // namespace shedbook
