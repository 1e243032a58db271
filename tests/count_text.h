// How often a piece of text stands in another, for tests.
#pragma once

#include <cstddef>
#include <string>

namespace shedbook {

[[nodiscard]] inline std::size_t count(const std::string& text, const std::string& what) {
    std::size_t out = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++out;
    return out;
}

}  // namespace shedbook
