#include "bar_values.h"

#include <array>
#include <string>

#include "shedbook/notation/notate.h"

namespace shedbook {

Meter meter_of_bar(Duration length, const Meter& in_force, std::size_t number) {
    constexpr int kMostBeats = 64;
    // Quarters are what most read best; long bars have wider beats.
    static constexpr std::array<int, 6> kUnits{4, 8, 16, 32, 2, 1};
    if (length == in_force.bar_length()) return in_force;
    for (const int unit : kUnits) {
        const Rational beats = length.whole_notes * Rational{unit};
        if (beats.is_whole() && beats <= Rational{kMostBeats})
            return Meter{static_cast<int>(beats.num()), unit};
    }
    throw UnwritableMusic("bar " + std::to_string(number) + " lasts " +
                          std::to_string(length.whole_notes.num()) + "/" +
                          std::to_string(length.whole_notes.den()) +
                          " of a whole note, and no meter does; a bar has up to 64 beats, no shorter than a "
                          "thirty-second");
}

}  // namespace shedbook
