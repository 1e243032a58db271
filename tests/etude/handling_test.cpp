#include "shedbook/etude/handling.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("an awkward way costs in full at speed, nothing at half of it, and always where no speed is named",
          "[etude]") {
    Handling handling;
    CHECK(handling.is_easy());
    CHECK(handling.cost(60, 61, 0.01) == 0);
    handling.awkward.assign(Handling::kKeys * Handling::kKeys, 0.0F);
    handling.awkward[60 * Handling::kKeys + 61] = 2;
    CHECK(handling.cost(60, 61, 1) == 2);
    handling.from = 5;
    CHECK(handling.cost(60, 61, 0.2) == 2);
    CHECK(handling.cost(60, 61, 0.4) == 0);
    CHECK(handling.cost(60, 61, 0.3) > 0);
    CHECK(handling.cost(60, 61, 0.3) < 2);
    CHECK(handling.cost(61, 60, 0.1) == 0);
}

TEST_CASE("augmented steps and leaps are known by their letters, and cost who sings", "[etude]") {
    const Pitch f = *parse_pitch("F4");
    CHECK(is_augmented(*parse_pitch("G#4") - f));
    CHECK(is_augmented(f - *parse_pitch("G#4")));
    CHECK(is_augmented(*parse_pitch("B4") - f));
    CHECK_FALSE(is_augmented(*parse_pitch("Ab4") - f));
    CHECK_FALSE(is_augmented(*parse_pitch("Cb5") - f));
    CHECK_FALSE(is_augmented(*parse_pitch("F#4") - f));
    Handling handling;
    CHECK(handling.cost(f, *parse_pitch("B4"), 1) == 0);
    handling.sings = true;
    CHECK(handling.cost(f, *parse_pitch("B4"), 1) == kAugmentedStep);
    CHECK(handling.cost(f, *parse_pitch("Cb5"), 1) == 0);
}

}  // namespace shedbook
