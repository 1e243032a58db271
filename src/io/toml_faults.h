// What is wrong with a line of TOML, in words for people who write one now and then.
#pragma once

#include <string>
#include <string_view>

namespace shedbook {

struct TomlFault {
    std::string message;
    std::string hint;
};

// `said`: what the library says of the line, in its own words; `at`: the byte of the line where it stopped.
[[nodiscard]] TomlFault toml_fault(std::string_view said, std::string_view line, std::size_t at);

// A line in place of the one at fault, so that the rest can be read and has its own faults told: a heading
// that is mended, or nothing.
[[nodiscard]] std::string stand_in_for(std::string_view line);

}  // namespace shedbook
