// The files of templates/ as they were when the program was built, so that one binary is all that is needed.
#pragma once

#include <cassert>
#include <map>
#include <span>
#include <string>
#include <string_view>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"

namespace shedbook {

struct EmbeddedTemplate {
    std::string_view name;  // "instruments.toml"
    std::string_view text;
};

[[nodiscard]] std::span<const EmbeddedTemplate> embedded_templates();
// The text of one of them; it exists, or the program was built wrongly.
[[nodiscard]] std::string_view embedded_template(std::string_view name);

// The files of templates/page/ as they were bundled when the program was built, by name; none where it was
// built without npm.
[[nodiscard]] std::map<std::string, std::string_view> page_files();

// What `read` makes of one of them, which has no fault: a test reads each.
template <class Read>
auto read_shipped(const char* name, Read read) {
    Diagnostics diagnostics;
    auto out = read(SourceText{name, std::string{embedded_template(name)}}, diagnostics);
    assert(!diagnostics.has_errors());
    return out;
}

}  // namespace shedbook
