#include "wav.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <optional>
#include <ostream>
#include <string_view>
#include <system_error>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/write/midi.h"
#include "sound_font.h"

namespace shedbook {
namespace {

constexpr std::size_t kChunk = 64 * 1024;
constexpr int kSampleRate = 44100;
constexpr int kBytesASecond = 4 * kSampleRate;
// The format's sizes are 32 bits; that is more than six hours.
constexpr double kMostSeconds = 4.0e9 / kBytesASecond;
// Loud enough, with room above: a whole band peaks at a quarter of full scale.
constexpr int kGainInTenths = 6;
// Below full scale by a decibel; what comes nearer is rendered again more softly.
constexpr int kLoudest = 29204;

struct Synthesizer {
    std::string program;
    std::string sound_font;
};

Synthesizer synthesizer(const SoundOptions& options) {
    const std::optional<std::string> program = find_program("fluidsynth");
    if (!program) {
        throw MissingProgram(
            "sound needs the synthesizer FluidSynth and a sound font (on Debian: apt-get install fluidsynth "
            "timgm6mb-soundfont); .mid works without them");
    }
    const std::optional<std::string> font = find_sound_font(options.sound_font, sound_font_folders());
    if (!font) {
        throw MissingProgram(
            "sound needs a sound font (on Debian: apt-get install timgm6mb-soundfont), or --sound-font with "
            "a "
            ".sf2 or .sf3 file; looked in " +
            join(sound_font_folders(), ", ") + "; .mid works without one");
    }
    return {*program, *font};
}

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

// How many seconds it sounds.
double write_midi_file(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                       const WriteOptions& options) {
    double seconds = 0;
    write_atomically(path, [&](std::ostream& out) {
        MidiWriter writer{out, options.sound};
        assemble(writer);
        seconds = writer.seconds();
    });
    if (seconds > kMostSeconds) {
        throw UnusableRequest(
            "this would be " + clock_time(seconds) +
            " of sound, more than a file can hold; choose with --only, for instance --only 1.2");
    }
    return seconds;
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

// On a full disk, or with a sound font that is cut short, FluidSynth says so and ends as if all were well.
bool has_failed(const std::string& said) {
    constexpr std::string_view kWords[]{"write error", "Failed to load", "not a SoundFont"};
    return std::ranges::any_of(kWords,
                               [&](std::string_view words) { return said.find(words) != std::string::npos; });
}

void render(const Synthesizer& synth, const std::string& folder, const std::string& type,
            int gain_in_tenths) {
    const std::string gain = std::to_string(gain_in_tenths / 10) + "." + std::to_string(gain_in_tenths % 10);
    // An empty configuration: what a user has set up for other programs must not change our sound.
    const std::string nothing = folder + "/settings";
    write_atomically(nothing, [](std::ostream&) {});
    ProcessOptions options;
    options.time_limit = std::chrono::hours{2};
    const ProcessResult result = run_process(
        {synth.program, "-f", nothing, "-ni", "-q", "-g", gain, "-r", std::to_string(kSampleRate), "-O",
         "s16", "-T", type, "-F", folder + "/sound." + type, synth.sound_font, folder + "/music.mid"},
        options);
    if (result.interrupted) throw Stopped("stopped before the sound was ready");
    if (result.timed_out || result.signal != 0)
        throw FailedProgram("the synthesizer " + how_it_ended(result) + "; no sound was written");
    if (result.exit_code != 0 || has_failed(result.said))
        throw FailedProgram("the synthesizer could not play this: " + result.said.substr(0, 400));
}

// Renders the music as a WAV file, and again more softly if it comes near full scale. The gain that was
// right.
int render_wav(const Synthesizer& synth, const std::string& folder, double seconds) {
    for (int gain = kGainInTenths;; gain = std::max(1, gain / 2)) {
        render(synth, folder, "wav", gain);
        const WavFacts sound = read_wav(folder + "/sound.wav");
        if (sound.seconds < seconds - 1) {
            throw FailedProgram("the synthesizer stopped after " + clock_time(sound.seconds) + " of " +
                                clock_time(seconds) + "; is the disk full?");
        }
        if (sound.peak <= kLoudest || gain == 1) return gain;
    }
}

int read_number(std::istream& in, int bytes) {
    std::uint32_t out = 0;
    for (int i = 0; i < bytes; ++i) out |= static_cast<std::uint32_t>(in.get() & 0xFF) << (8 * i);
    return static_cast<int>(out);
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

void write_sound(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                 const WriteOptions& options, const std::string& type) {
    const Synthesizer synth = synthesizer(options.sound);
    const InterruptWatch watch;  // so that Ctrl-C leaves nothing behind
    const TemporaryFolder folder;
    const double seconds = write_midi_file(folder.path() + "/music.mid", assemble, options);
    if (InterruptWatch::is_interrupted()) throw Stopped("stopped before the sound was ready");
    check_room(folder.path(), seconds);
    const int gain = render_wav(synth, folder.path(), seconds);
    if (type != "wav") render(synth, folder.path(), type, gain);
    copy_to(folder.path() + "/sound." + type, path);
}

}  // namespace

WavFacts read_wav(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    std::array<char, 12> head{};
    in.read(head.data(), head.size());
    if (!in || std::memcmp(head.data(), "RIFF", 4) != 0 || std::memcmp(head.data() + 8, "WAVE", 4) != 0)
        throw FileError(path + ": no WAV file");
    std::array<char, 4> id{};
    while (in.read(id.data(), id.size()) && std::memcmp(id.data(), "data", 4) != 0) {
        const int size = read_number(in, 4);
        in.ignore(static_cast<std::streamsize>(static_cast<std::uint32_t>(size)));
    }
    if (!in) throw FileError(path + ": a WAV file without sound");
    read_number(in, 4);
    WavFacts out;
    std::int64_t bytes = 0;  // that are there, whatever the head says
    std::vector<char> chunk(kChunk);
    while (in) {
        in.read(chunk.data(), static_cast<std::streamsize>(chunk.size()));
        bytes += in.gcount();
        for (std::streamsize i = 0; i + 1 < in.gcount(); i += 2) {
            const int low = chunk[static_cast<std::size_t>(i)] & 0xFF;
            const int sample = chunk[static_cast<std::size_t>(i) + 1] * 256 + low;
            out.peak = std::max(out.peak, std::abs(sample));
        }
    }
    out.seconds = static_cast<double>(bytes) / kBytesASecond;
    return out;
}

std::string missing_for_sound(const std::string& sound_font) {
    SoundOptions options;
    options.sound_font = sound_font;
    try {
        static_cast<void>(synthesizer(options));
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

}  // namespace shedbook
