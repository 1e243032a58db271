#include "shedbook/io/data.h"

#include <cmath>

namespace shedbook {

const Data* Data::find(std::string_view key) const {
    const Object* object = as_object();
    if (object == nullptr) return nullptr;
    for (const auto& [name, member] : *object) {
        if (name == key) return &member;
    }
    return nullptr;
}

std::optional<std::string> Data::as_string() const {
    const auto* text = std::get_if<std::string>(&value);
    return text != nullptr ? std::optional{*text} : std::nullopt;
}

std::optional<std::int64_t> Data::as_int() const {
    if (const auto* whole = std::get_if<std::int64_t>(&value)) return *whole;
    if (const auto* number = std::get_if<double>(&value)) {
        constexpr double kExact = 9007199254740992.0;  // above 2^53 a double skips whole numbers
        if (std::nearbyint(*number) == *number && std::abs(*number) < kExact) {
            return static_cast<std::int64_t>(*number);
        }
    }
    return std::nullopt;
}

std::optional<double> Data::as_number() const {
    if (const auto* whole = std::get_if<std::int64_t>(&value)) return static_cast<double>(*whole);
    if (const auto* number = std::get_if<double>(&value)) return *number;
    return std::nullopt;
}

std::optional<bool> Data::as_bool() const {
    const auto* truth = std::get_if<bool>(&value);
    return truth != nullptr ? std::optional{*truth} : std::nullopt;
}

const Data::Array* Data::as_array() const {
    return std::get_if<Array>(&value);
}
const Data::Object* Data::as_object() const {
    return std::get_if<Object>(&value);
}

}  // namespace shedbook
