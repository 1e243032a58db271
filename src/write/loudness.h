// How loud sound is to the ear, and how high it peaks between its samples. Source: Recommendation ITU-R
// BS.1770-4 (2015), annexes 1 (loudness) and 2 (true peak).
#pragma once

#include <fstream>
#include <string>
#include <vector>

namespace shedbook {

// Two channels of samples from -1 to 1, left and right in turn.
struct SoundSamples {
    std::vector<float> samples;
    int rate = 44100;  // frames a second
};

// Integrated and gated, in LUFS; kSilence if nothing is loud enough to count.
[[nodiscard]] double loudness_of(const SoundSamples& sound);
inline constexpr double kSilence = -70;

// In decibels over full scale.
[[nodiscard]] double true_peak_of(const SoundSamples& sound);

// A WAV file of two channels of 16 bits, read part by part. FileError if it is no such file.
class WavReader {
  public:
    explicit WavReader(const std::string& path);
    // At most so many seconds more; nothing is left where it has no samples.
    [[nodiscard]] SoundSamples read(double seconds);

  private:
    std::ifstream in_;
    int rate_ = 0;
};

}  // namespace shedbook
