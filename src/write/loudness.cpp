#include "loudness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <numbers>

#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr std::size_t kChannels = 2;

// A filter of second order, in direct form.
struct Filter {
    double b0, b1, b2, a1, a2;
    double before = 0;
    double before_that = 0;
    double pass(double in) {
        const double now = in - a1 * before - a2 * before_that;
        const double out = b0 * now + b1 * before + b2 * before_that;
        before_that = before;
        before = now;
        return out;
    }
};

// The two filters of annex 1 for any sample rate: the recommendation has their coefficients for 48 kHz, from
// which the corner, gain and quality of the analogue filters behind them were worked out (B. De Man,
// Evaluation of implementations of the EBU R128 loudness measurement, AES 145, 2018). A test compares them
// with the table.
Filter shelf(int rate) {
    constexpr double kCorner = 1681.974450955533;
    constexpr double kQuality = 0.7071752369554196;
    constexpr double kGain = 3.999843853973347;
    const double k = std::tan(kPi * kCorner / rate);
    const double high = std::pow(10.0, kGain / 20);
    const double band = std::pow(high, 0.4996667741545416);
    const double a0 = 1 + k / kQuality + k * k;
    return {(high + band * k / kQuality + k * k) / a0, 2 * (k * k - high) / a0,
            (high - band * k / kQuality + k * k) / a0, 2 * (k * k - 1) / a0, (1 - k / kQuality + k * k) / a0};
}

Filter high_pass(int rate) {
    constexpr double kCorner = 38.13547087602444;
    constexpr double kQuality = 0.5003270373238773;
    const double k = std::tan(kPi * kCorner / rate);
    const double a0 = 1 + k / kQuality + k * k;
    return {1, -2, 1, 2 * (k * k - 1) / a0, (1 - k / kQuality + k * k) / a0};
}

double in_lufs(double power) {
    constexpr double kOffset = -0.691;
    return power > 0 ? kOffset + 10 * std::log10(power) : kSilence - 10;
}

// The mean power of each tenth of a second, both channels added.
std::vector<double> tenths(const SoundSamples& sound) {
    const auto length = static_cast<std::size_t>(sound.rate / 10);
    std::array<Filter, kChannels> shelves{shelf(sound.rate), shelf(sound.rate)};
    std::array<Filter, kChannels> passes{high_pass(sound.rate), high_pass(sound.rate)};
    std::vector<double> out;
    const std::size_t frames = sound.samples.size() / kChannels;
    double sum = 0;
    for (std::size_t i = 0; i < frames; ++i) {
        for (std::size_t c = 0; c < kChannels; ++c) {
            const double weighted =
                passes[c].pass(shelves[c].pass(static_cast<double>(sound.samples[kChannels * i + c])));
            sum += weighted * weighted;
        }
        if ((i + 1) % length != 0) continue;
        out.push_back(sum / static_cast<double>(length));
        sum = 0;
    }
    return out;
}

double mean_over(const std::vector<double>& blocks, double gate) {
    double sum = 0;
    int count = 0;
    for (const double block : blocks) {
        if (in_lufs(block) < gate) continue;
        sum += block;
        ++count;
    }
    return count == 0 ? 0 : sum / count;
}

std::uint32_t number_in(std::istream& in, int bytes) {
    std::uint32_t out = 0;
    for (int i = 0; i < bytes; ++i) out |= static_cast<std::uint32_t>(in.get() & 0xFF) << (8 * i);
    return out;
}

}  // namespace

double loudness_of(const SoundSamples& sound) {
    constexpr std::size_t kTenthsInBlock = 4;
    constexpr double kRelativeGate = -10;
    const std::vector<double> parts = tenths(sound);
    std::vector<double> blocks;
    for (std::size_t i = 0; i + kTenthsInBlock <= parts.size(); ++i) {
        double sum = 0;
        for (std::size_t k = 0; k < kTenthsInBlock; ++k) sum += parts[i + k];
        blocks.push_back(sum / kTenthsInBlock);
    }
    const double gate = in_lufs(mean_over(blocks, kSilence)) + kRelativeGate;
    return std::max(kSilence, in_lufs(mean_over(blocks, std::max(gate, kSilence))));
}

double true_peak_of(const SoundSamples& sound) {
    // Four times the rate, by a windowed sinc of twelve taps a phase; where the samples themselves are far
    // under the highest one nothing between them is higher.
    constexpr int kTaps = 12;
    constexpr int kPhases = 4;
    std::array<std::array<double, kTaps>, kPhases> taps{};
    for (int phase = 0; phase < kPhases; ++phase) {
        for (int tap = 0; tap < kTaps; ++tap) {
            const int place = tap - kTaps / 2 + 1;
            const double x = place - static_cast<double>(phase) / kPhases;
            const double sinc = x == 0 ? 1 : std::sin(kPi * x) / (kPi * x);
            const double window = 0.5 + 0.5 * std::cos(2 * kPi * x / (kTaps + 1));
            taps[static_cast<std::size_t>(phase)][static_cast<std::size_t>(tap)] = sinc * window;
        }
    }
    float highest = 0;
    for (const float sample : sound.samples) highest = std::max(highest, std::abs(sample));
    const float near = highest / 2;
    auto peak = static_cast<double>(highest);
    for (std::size_t i = kChannels * kTaps; i < sound.samples.size(); ++i) {
        const std::size_t middle = i - kChannels * kTaps / 2;
        if (std::abs(sound.samples[middle]) < near) continue;
        for (const auto& phase : taps) {
            double sum = 0;
            for (std::size_t tap = 0; tap < kTaps; ++tap)
                sum += phase[tap] * static_cast<double>(sound.samples[i - kChannels * (kTaps - 1 - tap)]);
            peak = std::max(peak, std::abs(sum));
        }
    }
    return peak > 0 ? 20 * std::log10(peak) : -200;
}

WavReader::WavReader(const std::string& path) : in_{path, std::ios::binary} {
    std::array<char, 12> head{};
    in_.read(head.data(), head.size());
    if (!in_ || std::memcmp(head.data(), "RIFF", 4) != 0 || std::memcmp(head.data() + 8, "WAVE", 4) != 0)
        throw FileError(path + ": no WAV file");
    std::array<char, 4> id{};
    while (in_.read(id.data(), id.size()) && std::memcmp(id.data(), "data", 4) != 0) {
        std::uint32_t left = number_in(in_, 4);
        constexpr std::uint32_t kRateEnds = 8;
        if (std::memcmp(id.data(), "fmt ", 4) == 0 && left >= kRateEnds) {
            number_in(in_, 4);
            rate_ = static_cast<int>(number_in(in_, 4));
            left -= kRateEnds;
        }
        in_.ignore(static_cast<std::streamsize>(left));
    }
    if (!in_ || rate_ <= 0) throw FileError(path + ": a WAV file without sound");
    number_in(in_, 4);
}

// What is there, whatever the head says of its length.
SoundSamples WavReader::read(double seconds) {
    constexpr std::size_t kBytesInFrame = 4;
    constexpr float kFullScale = 32768;
    std::vector<char> bytes(kBytesInFrame * static_cast<std::size_t>(seconds * rate_));
    in_.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    const auto count = static_cast<std::size_t>(in_.gcount());
    SoundSamples out{{}, rate_};
    out.samples.reserve(count / 2);
    for (std::size_t i = 0; i + 1 < count; i += 2) {
        const int sample = bytes[i + 1] * 256 + (bytes[i] & 0xFF);
        out.samples.push_back(static_cast<float>(sample) / kFullScale);
    }
    return out;
}

}  // namespace shedbook
