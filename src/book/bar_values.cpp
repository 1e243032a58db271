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

NoteValue note_value(Duration beat) {
    NoteValue out;
    Rational length = beat.whole_notes;
    if (length.num() == 3) {
        out.dots = 1;
        length = length * Rational{2, 3};
    }
    out.log2 = 0;
    while (length < Rational{1}) {
        length = length * Rational{2};
        ++out.log2;
    }
    return out;
}

}  // namespace shedbook
