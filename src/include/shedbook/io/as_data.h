// Values as plain data, for whoever writes JSON.
//
//     Data::Object{{"title", as_data("Blue Door")}, {"bars", as_data(std::int64_t{32})}};
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "shedbook/io/data.h"

namespace shedbook {

[[nodiscard]] inline Data as_data(std::string_view text) {
    return {std::string{text}};
}
[[nodiscard]] inline Data as_data(std::int64_t number) {
    return {number};
}
[[nodiscard]] inline Data as_data(int number) {
    return {std::int64_t{number}};
}
[[nodiscard]] inline Data as_data(Data::Object object) {
    return {std::move(object)};
}
[[nodiscard]] inline Data as_data(Data::Array array) {
    return {std::move(array)};
}
[[nodiscard]] inline Data as_data(const std::vector<std::string>& texts) {
    Data::Array out;
    for (const std::string& text : texts) out.push_back(as_data(text));
    return {std::move(out)};
}
[[nodiscard]] inline Data as_data(const std::vector<int>& numbers) {
    Data::Array out;
    for (const int number : numbers) out.push_back(as_data(number));
    return {std::move(out)};
}
[[nodiscard]] inline Data size_as_data(std::size_t size) {
    return {static_cast<std::int64_t>(size)};
}
[[nodiscard]] inline Data text_or_null(std::string_view text) {
    return text.empty() ? Data{} : as_data(text);
}

}  // namespace shedbook
