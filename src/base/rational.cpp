#include "shedbook/base/rational.h"

namespace shedbook {

std::string to_string(Rational value) {
    std::string out = std::to_string(value.num());
    if (!value.is_whole()) out += "/" + std::to_string(value.den());
    return out;
}

}  // namespace shedbook
