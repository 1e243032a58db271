// The sound font for whoever waits for the first note.
#pragma once

#include <string>
#include <vector>

namespace shedbook {

// Of those in the folders the one that a synthesizer has loaded soonest: the smallest that is not packed
// (.sf2), else the smallest of all. Empty: none. Without folders: where sound fonts usually lie.
[[nodiscard]] std::string quickest_sound_font(const std::vector<std::string>& folders);
[[nodiscard]] std::string quickest_sound_font();

}  // namespace shedbook
