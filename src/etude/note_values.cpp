#include "note_values.h"

#include <algorithm>

namespace shedbook {

int quarters_a_minute(const EtudeRequest& request, const EtudeGround& ground) {
    constexpr int kUsual = 120;
    if (!request.tempo || ground.bars.empty()) return kUsual;
    const Rational quarters = ground.bars.front().meter.beat_length() / kQuarter * Rational{*request.tempo};
    return static_cast<int>(std::max<std::int64_t>(1, quarters.floor()));
}

Duration playable(Duration wished, int quarters, int level) {
    constexpr Duration kTriplet{Rational{1, 12}};
    constexpr int kSixteenths = 172;
    constexpr int kUsualSixteenths = 160;
    constexpr int kTriplets = 199;
    if (wished < kTriplet && quarters > (level == kHighestLevel ? kSixteenths : kUsualSixteenths))
        wished = kTriplet;
    if (wished == kTriplet && quarters > kTriplets) wished = kEighth;
    return wished;
}

}  // namespace shedbook
