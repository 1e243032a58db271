#include "wav.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <ostream>
#include <string_view>
#include <system_error>
#include <vector>

#include "balance.h"
#include "loudness.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "synthesizer.h"

namespace shedbook {
namespace {

constexpr std::size_t kChunk = 64 * 1024;
constexpr int kBytesASecond = 4 * kSampleRate;
// The format's sizes are 32 bits; that is more than six hours.
constexpr double kMostSeconds = 4.0e9 / kBytesASecond;
// Decibels over full scale; what comes nearer is rendered again more softly.
constexpr double kHighestPeak = -1.2;

struct Rendered {
    double gain = 0;
    double seconds = 0;
};

std::string clock_time(double seconds) {
    const auto whole = static_cast<int>(seconds);
    const int minutes = whole / 60;
    std::array<char, 32> out{};
    if (minutes < 60) {
        std::snprintf(out.data(), out.size(), "%d:%02d minutes", minutes, whole % 60);
    } else {
        std::snprintf(out.data(), out.size(), "%d:%02d hours", minutes / 60, minutes % 60);
    }
    return out.data();
}

Rendered write_midi_file(const Synthesizer& synth, const std::string& folder,
                         const std::function<void(BlockSink&)>& assemble, const WriteOptions& options) {
    Rendered made;
    write_atomically(folder + "/music.mid", [&](std::ostream& out) {
        BalancedMidi midi{out, options.sound, synth, folder, options.loudness};
        assemble(midi);
        made = {midi.gain(), midi.seconds()};
    });
    if (made.seconds > kMostSeconds) {
        throw UnusableRequest(
            "this would be " + clock_time(made.seconds) +
            " of sound, more than a file can hold; choose with --only, for instance --only 1.2");
    }
    return made;
}

// Said before the synthesizer runs into it.
void check_room(const std::string& folder, double seconds) {
    constexpr double kMegabyte = 1'000'000;
    constexpr double kBeside = 2 * kMegabyte;
    const double needed = seconds * kBytesASecond + kBeside;
    std::error_code error;
    const auto room = static_cast<double>(std::filesystem::space(folder, error).available);
    if (error || room >= needed) return;
    throw FileError("there is no room for this sound in " +
                    std::filesystem::path{folder}.parent_path().string() + ": it takes " +
                    std::to_string(static_cast<int>(needed / kMegabyte)) + " MB and " +
                    std::to_string(static_cast<int>(room / kMegabyte)) +
                    " are free (TMPDIR names another folder to work in)");
}

struct WavFacts {
    double peak = 0;  // true peak, in decibels over full scale
    double seconds = 0;
};

WavFacts look_at(const std::string& path) {
    constexpr double kPart = 20;
    WavReader reader{path};
    WavFacts out{-200, 0};
    while (true) {
        const SoundSamples part = reader.read(kPart);
        if (part.samples.empty()) return out;
        out.peak = std::max(out.peak, true_peak_of(part));
        out.seconds += static_cast<double>(part.samples.size()) / 2 / part.rate;
    }
}

// Renders the music as a WAV file, and again more softly if it comes near full scale. The gain that was
// right.
double render_wav(const Synthesizer& synth, const std::string& folder, const Rendered& music) {
    for (double gain = music.gain;;) {
        synthesize(synth, folder + "/music.mid", folder + "/sound.wav", "wav", gain, Rendering::Final);
        const WavFacts sound = look_at(folder + "/sound.wav");
        if (sound.seconds < music.seconds - 1) {
            throw FailedProgram("the synthesizer stopped after " + clock_time(sound.seconds) + " of " +
                                clock_time(music.seconds) + "; is the disk full?");
        }
        if (sound.peak <= kHighestPeak) return gain;
        // What was cut off at full scale may have been higher still.
        const double over = std::max(1.0, sound.peak - kHighestPeak + 0.3);
        gain *= std::pow(10, -over / 20);
    }
}

void copy_to(const std::string& from, const std::string& path) {
    std::ifstream in{from, std::ios::binary};
    if (!in) throw FailedProgram("the synthesizer left no sound");
    write_atomically(path, [&](std::ostream& out) {
        std::vector<char> chunk(kChunk);
        while (out && (in.read(chunk.data(), static_cast<std::streamsize>(chunk.size())) || in.gcount() > 0))
            out.write(chunk.data(), in.gcount());
        if (in.bad()) throw FileError("the sound cannot be read back");
    });
}

// A program that makes another kind of file of a WAV file; the same each time, with a fixed serial number.
struct Encoder {
    std::string_view type;
    std::string_view program;
    std::string_view package;
    std::vector<std::string> options;
};

const std::vector<Encoder>& encoders() {
    static const std::vector<Encoder> kEncoders{
        {"ogg", "oggenc", "vorbis-tools", {"-Q", "-q", "5", "-s", "1", "-o"}},
        {"opus", "opusenc", "opus-tools", {"--quiet", "--bitrate", "128", "--serial", "1"}},
    };
    return kEncoders;
}

const Encoder* encoder_for(const std::string& type) {
    const auto found = std::ranges::find(encoders(), type, &Encoder::type);
    return found == encoders().end() ? nullptr : &*found;
}

std::string find_encoder(const Encoder& encoder) {
    const std::string name{encoder.program};
    if (const auto program = find_program(name)) return *program;
    throw MissingProgram("." + std::string{encoder.type} + " needs " + name +
                         " (on Debian: apt-get install " + std::string{encoder.package} +
                         "); .wav and .flac work without it");
}

void encode(const Encoder& encoder, const std::string& program, const std::string& folder) {
    std::vector<std::string> command{program};
    command.insert(command.end(), encoder.options.begin(), encoder.options.end());
    const std::string from = folder + "/sound.wav";
    const std::string to = folder + "/sound." + std::string{encoder.type};
    const bool names_output_first = encoder.options.back() == "-o";
    command.insert(command.end(), {names_output_first ? to : from, names_output_first ? from : to});
    ProcessOptions options;
    options.time_limit = std::chrono::hours{2};
    const ProcessResult result = run_process(command, options);
    if (result.interrupted) throw Stopped("stopped before the sound was ready");
    if (result.exit_code != 0)
        throw FailedProgram(std::string{encoder.program} + " " + how_it_ended(result) + ": " +
                            result.said.substr(0, 400));
}

void write_sound(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                 const WriteOptions& options, const std::string& type) {
    const Encoder* encoder = encoder_for(type);
    const std::string program = encoder == nullptr ? "" : find_encoder(*encoder);
    const Synthesizer synth = find_synthesizer(options.sound);
    const InterruptWatch watch;  // so that Ctrl-C leaves nothing behind
    const TemporaryFolder folder;
    const Rendered music = write_midi_file(synth, folder.path(), assemble, options);
    if (InterruptWatch::is_interrupted()) throw Stopped("stopped before the sound was ready");
    check_room(folder.path(), music.seconds);
    const double gain = render_wav(synth, folder.path(), music);
    if (encoder != nullptr) {
        encode(*encoder, program, folder.path());
    } else if (type != "wav") {
        synthesize(synth, folder.path() + "/music.mid", folder.path() + "/sound." + type, type, gain,
                   Rendering::Final);
    }
    copy_to(folder.path() + "/sound." + type, path);
}

}  // namespace

std::string missing_for_sound(const std::string& sound_font) {
    SoundOptions options;
    options.sound_font = sound_font;
    try {
        static_cast<void>(find_synthesizer(options));
    } catch (const std::exception& error) {
        return error.what();
    }
    return {};
}

void write_wav(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options) {
    write_sound(path, assemble, options, "wav");
}

void write_flac(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                const WriteOptions& options) {
    write_sound(path, assemble, options, "flac");
}

void write_ogg(const std::string& path, const std::function<void(BlockSink&)>& assemble,
               const WriteOptions& options) {
    write_sound(path, assemble, options, "ogg");
}

void write_opus(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                const WriteOptions& options) {
    write_sound(path, assemble, options, "opus");
}

}  // namespace shedbook
