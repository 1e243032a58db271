// Numbers as the forms of files write them.
#pragma once

#include <optional>
#include <string_view>

#include "shedbook/base/time.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

// "12", "-1", "2.5"; nothing for anything else.
[[nodiscard]] std::optional<Rational> parse_decimal(std::string_view text);
// A whole number, or a fraction, at the front of a text, which is cut off it.
[[nodiscard]] std::optional<int> take_number(std::string_view& text);
[[nodiscard]] std::optional<Rational> take_fraction(std::string_view& text);
// A length of time as a fraction of a whole note: "3/8".
[[nodiscard]] std::optional<Duration> parse_length(std::string_view text);

// So many of a note value a minute, as beats of the meter; nothing for what is no tempo.
[[nodiscard]] std::optional<int> tempo_of(Rational per_minute, Duration note,
                                          const std::optional<Meter>& meter);

}  // namespace shedbook
