#include "shedbook/write/quickest_font.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <system_error>
#include <utility>

#include "shedbook/base/text.h"
#include "sound_font.h"

namespace shedbook {

std::string quickest_sound_font(const std::vector<std::string>& folders) {
    using Cost = std::pair<bool, std::uintmax_t>;  // packed, bytes
    std::optional<std::pair<Cost, std::string>> out;
    for (const std::string& folder : folders) {
        std::error_code error;
        for (const auto& entry : std::filesystem::directory_iterator{folder, error}) {
            if (!is_sound_font(entry.path().string())) continue;
            const bool is_packed = lower_case(entry.path().extension().string()) == ".sf3";
            const std::pair<Cost, std::string> found{
                {is_packed, std::filesystem::file_size(entry.path(), error)}, entry.path().string()};
            if (!out || found < *out) out = found;
        }
    }
    return out ? out->second : "";
}

std::string quickest_sound_font() {
    return quickest_sound_font(sound_font_folders());
}

}  // namespace shedbook
