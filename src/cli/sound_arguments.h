// How a document sounds, as arguments of every command that writes one.
#pragma once

#include <string>
#include <vector>

#include "command.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

struct SoundArguments {
    std::string tempo;
    int tempo_step = 10;
    int tempo_bars = 0;
    std::string eighths;
    std::vector<std::string> mute;
    std::string clicks = "2-and-4";
    std::string silent_bars;
    int times = 0;
    std::string sound_font;
};

// Declares --tempo, --tempo-step, --tempo-bars, --eighths, --mute, --clicks, --silent-bars, --times and
// --sound-font.
void add_sound_options(CLI::App& app, SoundArguments& arguments);

// UsageError where an option of sound was given and the output is none.
void refuse_sound_options(const SoundArguments& arguments, const std::string& output);

// UsageError where a value is none.
[[nodiscard]] SoundOptions sound_options_of(const SoundArguments& arguments);

}  // namespace shedbook
