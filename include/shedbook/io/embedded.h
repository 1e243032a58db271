// The files of templates/ as they were when the program was built, so that one binary is all that is needed.
#pragma once

#include <span>
#include <string_view>

namespace shedbook {

struct EmbeddedTemplate {
    std::string_view name;  // "instruments.toml"
    std::string_view text;
};

[[nodiscard]] std::span<const EmbeddedTemplate> embedded_templates();
// The text of one of them; it exists, or the program was built wrongly.
[[nodiscard]] std::string_view embedded_template(std::string_view name);

}  // namespace shedbook
