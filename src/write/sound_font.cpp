#include "sound_font.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// What Debian's free packages call their files, the fuller sound first; any other one comes after them. All
// have a brush kit. A minute of a quartet with its levels measured took 1.8 seconds of one core with
// TimGM6mb, 3.8 with FluidR3_GM, and 15 with the packed MuseScore_General_Lite.
constexpr std::string_view kPreferred[] = {
    "FluidR3_GM.sf2",     "MuseScore_General.sf3", "MuseScore_General_Lite.sf3",
    "FluidR3Mono_GM.sf3", "default-GM.sf2",        "default-GM.sf3",
    "TimGM6mb.sf2"};

}  // namespace

// The form's own mark counts, not only the name: FluidSynth plays something else instead of what it cannot
// read. SoundFont Technical Specification 2.04 (Creative, 2006), chapter 4: a RIFF chunk of the form sfbk.
bool is_sound_font(const std::string& name) {
    const fs::path path{name};
    const std::string ending = lower_case(path.extension().string());
    std::error_code error;
    if ((ending != ".sf2" && ending != ".sf3") || !fs::is_regular_file(path, error)) return false;
    std::ifstream in{path, std::ios::binary};
    std::array<char, 12> head{};
    in.read(head.data(), head.size());
    const std::string_view text{head.data(), head.size()};
    return in && text.substr(0, 4) == "RIFF" && text.substr(8) == "sfbk";
}

std::vector<std::string> sound_font_folders() {
    std::vector<std::string> out;
    if (const char* home = std::getenv("HOME"); home != nullptr && *home != '\0') {
        out.push_back(std::string{home} + "/.local/share/sounds/sf2");
        out.push_back(std::string{home} + "/.local/share/soundfonts");
    }
    for (const char* folder : {"/usr/share/sounds/sf2", "/usr/share/sounds/sf3", "/usr/share/soundfonts",
                               "/usr/local/share/soundfonts", "/opt/homebrew/share/soundfonts"}) {
        out.emplace_back(folder);
    }
    return out;
}

std::optional<std::string> find_sound_font(const std::string& asked,
                                           const std::vector<std::string>& folders) {
    if (!asked.empty()) {
        if (!is_sound_font(asked)) throw UnusableRequest(asked + ": no sound font (a .sf2 or .sf3 file)");
        return asked;
    }
    for (const std::string_view name : kPreferred) {
        for (const std::string& folder : folders) {
            const fs::path path = fs::path{folder} / name;
            if (is_sound_font(path.string())) return path.string();
        }
    }
    std::vector<std::string> others;
    for (const std::string& folder : folders) {
        std::error_code error;
        for (const auto& entry : fs::directory_iterator{folder, error}) {
            if (is_sound_font(entry.path().string())) others.push_back(entry.path().string());
        }
    }
    if (others.empty()) return std::nullopt;
    return *std::ranges::min_element(others);
}

}  // namespace shedbook
