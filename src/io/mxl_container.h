// The file META-INF/container.xml of a compressed score: where it says that the score is.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace shedbook {

struct ContainerPath {
    std::string path;     // full-path of the first rootfile; empty: it names none
    std::string refusal;  // why the container is not to be trusted; empty: it is
};

// Containers in the wild are not always well-formed XML, so the element is looked for in the text, and where
// a path has the quotation mark in it that it stands between, the name of an entry tells where it ends;
// comments do not count. A container that declares something of its own, or uses an entity that XML does not
// know by itself, is refused.
[[nodiscard]] ContainerPath path_in_container(std::string_view container,
                                              const std::vector<std::string>& entries);

}  // namespace shedbook
