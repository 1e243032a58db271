// The instruments that a synthesizer plays with: a sound font, found where systems keep them.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace shedbook {

// The folders that are looked into, in order.
[[nodiscard]] std::vector<std::string> sound_font_folders();
// Whether a file says of itself that it is one.
[[nodiscard]] bool is_sound_font(const std::string& name);
// The file that was asked for (UnusableRequest if it is none), else the best one in those folders; nothing if
// there is none.
[[nodiscard]] std::optional<std::string> find_sound_font(const std::string& asked,
                                                         const std::vector<std::string>& folders);

}  // namespace shedbook
