// Sound that can be listened to: the MIDI file of a document, played into a file by FluidSynth, a program of
// its own.
#pragma once

#include <cstdint>
#include <string>

#include "shedbook/write/writers.h"

namespace shedbook {

// The file appears whole or not at all. MissingProgram if there is no synthesizer or no sound font,
// FailedProgram if it fails, UnusableRequest if the sound would be longer than a file can hold.
void write_wav(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
void write_flac(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                const WriteOptions& options);

// A WAV file of two channels of 16 bits.
struct WavFacts {
    int peak = 0;  // the largest sample, 0 to 32768
    double seconds = 0;
};
// FileError if it is no such file.
[[nodiscard]] WavFacts read_wav(const std::string& path);

}  // namespace shedbook
