// How a document is asked to sound.
#pragma once

#include <string>

#include "shedbook/job/requests.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

// UsageError where something was said of sound and the output is none.
void refuse_sound_options(const SoundRequest& request, const std::string& output);

// UsageError where a value is none.
[[nodiscard]] SoundOptions sound_options_of(const SoundRequest& request);

}  // namespace shedbook
