#include "bar_values.h"

namespace shedbook {

Meter meter_of_length(Duration length) {
    const Rational quarters = length.whole_notes * Rational{4};
    int unit = 4;
    Rational count = quarters;
    while (!count.is_whole() && unit < 32) {
        unit *= 2;
        count = count * Rational{2};
    }
    return Meter{static_cast<int>(count.floor()), unit};
}

}  // namespace shedbook
