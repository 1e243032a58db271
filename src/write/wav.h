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
// By oggenc and opusenc.
void write_ogg(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options);
void write_opus(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                const WriteOptions& options);

}  // namespace shedbook
