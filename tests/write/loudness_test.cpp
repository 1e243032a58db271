// Loudness and true peak against Recommendation ITU-R BS.1770-4 (2015).
#include "../../src/write/loudness.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

namespace shedbook {
namespace {

// A sine in the left channel, or in both.
SoundSamples sine(double hertz, double decibels, double seconds, int rate, bool both, double phase = 0) {
    SoundSamples out{{}, rate};
    const double peak = std::pow(10, decibels / 20);
    for (int i = 0; i < static_cast<int>(seconds * rate); ++i) {
        const auto sample =
            static_cast<float>(peak * std::sin(2 * std::numbers::pi * hertz * i / rate + phase));
        out.samples.push_back(sample);
        out.samples.push_back(both ? sample : 0);
    }
    return out;
}

}  // namespace

// Annex 1: "if a 0 dB FS, 997 Hz (1 kHz) sine wave is applied to the left, centre, or right channel input,
// the indicated loudness will equal -3.01 LKFS".
TEST_CASE("a full sine of 997 hertz in one channel has -3.01 LUFS at any sample rate", "[write]") {
    for (const int rate : {48000, 44100, 22050})
        CHECK(loudness_of(sine(997, 0, 3, rate, false)) == Approx(-3.01).margin(0.04));
    CHECK(loudness_of(sine(997, -20, 3, 44100, true)) == Approx(-20).margin(0.02));
}

// Annex 1, tables 1 and 2, coefficients for 48 kHz (from memory): the response worked out from them.
TEST_CASE("low and high notes weigh as the tables of the recommendation say", "[write]") {
    const auto in_table = [](double hertz) {
        const double w = 2 * std::numbers::pi * hertz / 48000;
        const auto response = [&](double b0, double b1, double b2, double a1, double a2) {
            const double re = b0 + b1 * std::cos(w) + b2 * std::cos(2 * w);
            const double im = b1 * std::sin(w) + b2 * std::sin(2 * w);
            const double under_re = 1 + a1 * std::cos(w) + a2 * std::cos(2 * w);
            const double under_im = a1 * std::sin(w) + a2 * std::sin(2 * w);
            return (re * re + im * im) / (under_re * under_re + under_im * under_im);
        };
        const double shelf = response(1.53512485958697, -2.69169618940638, 1.19839281085285,
                                      -1.69065929318241, 0.73248077421585);
        const double pass = response(1, -2, 1, -1.99004745483398, 0.99007225036621);
        return 10 * std::log10(shelf * pass) - 0.691 - 3.0103;
    };
    for (const double hertz : {41.2, 98.0, 440.0, 2000.0, 6000.0})
        CHECK(loudness_of(sine(hertz, 0, 3, 48000, false)) == Approx(in_table(hertz)).margin(0.05));
}

TEST_CASE("silence does not count, whether all of it or half", "[write]") {
    SoundSamples half = sine(997, -20, 4, 44100, true);
    const double loud = loudness_of(half);
    half.samples.resize(2 * half.samples.size());
    CHECK(loudness_of(half) == Approx(loud).margin(0.5));
    CHECK(loudness_of({std::vector<float>(88200), 44100}) == kSilence);
}

// Annex 2: a sine at a quarter of the sample rate whose samples all lie 3 dB under its peak.
TEST_CASE("a peak between two samples is found", "[write]") {
    const SoundSamples sound = sine(11025, -6, 0.5, 44100, true, std::numbers::pi / 4);
    CHECK(true_peak_of(sound) == Approx(-6).margin(0.3));
}

}  // namespace shedbook
