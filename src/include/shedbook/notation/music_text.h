// Words about music as they are printed: real flats, sharps and circles in place of letters.
#pragma once

#include <string>
#include <string_view>

namespace shedbook {

// "Bb altered" as "B♭ altered", "b9 #11" as "♭9 ♯11": after a note name, or before a figure; "viio7" as
// "vii°7". Other letters stay.
[[nodiscard]] std::string with_signs(std::string_view text);
// The other way round, for what was copied from a page: "♭VII7" as "bVII7".
[[nodiscard]] std::string with_letters(std::string text);

}  // namespace shedbook
