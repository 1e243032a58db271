// The information fields of ABC (standard 2.1, section 3): key, meter, unit note length, tempo.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/theory/key.h"
#include "shedbook/theory/meter.h"

namespace shedbook {

struct AbcKey {
    std::optional<Key> key;          // nothing for "none" and what is no key
    std::array<int, 7> alters = {};  // of C D E F G A B
    bool is_understood = true;
    bool has_transpose = false;  // asks for a transposition, which is not done
};
[[nodiscard]] AbcKey parse_abc_key(std::string_view text);

// "C|", "6/8", "(2+3)/8"; nothing for "none".
struct AbcMeter {
    std::optional<Meter> meter;
    bool is_understood = true;
};
[[nodiscard]] AbcMeter parse_abc_meter(std::string_view text);

// The unit note length where no L: field says it: a sixteenth in meters below 3/4, else an eighth
// (section 3.1.7).
[[nodiscard]] Duration default_unit(const std::optional<Meter>& meter);

// "1/4=120", "120", "\"Slow\" 3/8=60": beats of the meter a minute.
struct AbcTempo {
    std::optional<int> tempo;
    std::string words;
};
[[nodiscard]] AbcTempo parse_abc_tempo(std::string_view text, const std::optional<Meter>& meter);

}  // namespace shedbook
