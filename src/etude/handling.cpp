#include "shedbook/etude/handling.h"

#include <algorithm>
#include <cstdlib>

namespace shedbook {

bool is_augmented(Interval interval) {
    const Interval up = interval.steps() < 0 ? -interval : interval;
    return up.steps() > 0 && up.alter() > 0;
}

double Handling::cost(int from_key, int to_key, double seconds) const {
    if (awkward.empty()) return 0;
    const double share = from > 0 ? std::clamp(2 / (std::max(seconds, 1e-3) * from) - 1, 0.0, 1.0) : 1;
    const std::size_t at = static_cast<std::size_t>(from_key) * kKeys + static_cast<std::size_t>(to_key);
    return share * static_cast<double>(awkward[at]);
}

double Handling::cost(Pitch before, Pitch note, double seconds) const {
    return cost(before.midi(), note.midi(), seconds) +
           (sings && is_augmented(note - before) ? kAugmentedStep : 0);
}

}  // namespace shedbook
