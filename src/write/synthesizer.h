// FluidSynth, a program of its own, with a sound font.
#pragma once

#include <string>

#include "shedbook/write/sound_options.h"

namespace shedbook {

inline constexpr int kSampleRate = 44100;

struct Synthesizer {
    std::string program;
    std::string sound_font;
};

// MissingProgram if there is none, or no sound font.
[[nodiscard]] Synthesizer find_synthesizer(const SoundOptions& options);

enum class Rendering {
    Draft,  // half as many samples and no room around it: to measure
    Final,
};

// `from`, a MIDI file, as a sound file of that type ("wav", "flac"). `gain`: a factor. FailedProgram if it
// fails, Stopped if somebody stops it.
void synthesize(const Synthesizer& synth, const std::string& from, const std::string& to,
                const std::string& type, double gain, Rendering rendering);

}  // namespace shedbook
