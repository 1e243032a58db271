#include "synthesizer.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <optional>
#include <ostream>
#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/files.h"
#include "shedbook/io/process.h"
#include "sound_font.h"

namespace shedbook {
namespace {

// On a full disk, or with a sound font that is cut short, FluidSynth says so and ends as if all were well.
bool has_failed(const std::string& said) {
    constexpr std::string_view kWords[]{"write error", "Failed to load", "not a SoundFont"};
    return std::ranges::any_of(kWords,
                               [&](std::string_view words) { return said.find(words) != std::string::npos; });
}

std::string with_point(double number) {
    std::array<char, 32> out{};
    std::snprintf(out.data(), out.size(), "%.3f", number);
    return out.data();
}

}  // namespace

Synthesizer find_synthesizer(const SoundOptions& options) {
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

void synthesize(const Synthesizer& synth, const std::string& from, const std::string& to,
                const std::string& type, double gain, Rendering rendering) {
    const bool is_draft = rendering == Rendering::Draft;
    // An empty configuration: what a user has set up for other programs must not change our sound.
    const std::string nothing = to + "-settings";
    write_atomically(nothing, [](std::ostream&) {});
    std::vector<std::string> command{synth.program, "-f", nothing, "-ni", "-q", "-g", with_point(gain)};
    // The same samples in larger pieces: a quarter less time. The last piece is filled up with silence.
    command.insert(command.end(), {"-o", "audio.period-size=1024"});
    // A packed font is unpacked as far as it is played alone: half the time, and the same sound.
    if (synth.sound_font.ends_with(".sf3"))
        command.insert(command.end(), {"-o", "synth.dynamic-sample-loading=1"});
    if (is_draft) command.insert(command.end(), {"-R", "0", "-C", "0"});
    const std::string rate = std::to_string(is_draft ? kSampleRate / 2 : kSampleRate);
    command.insert(command.end(), {"-r", rate, "-O", "s16", "-T", type, "-F", to, synth.sound_font, from});
    ProcessOptions options;
    options.time_limit = std::chrono::hours{2};
    const ProcessResult result = run_process(command, options);
    if (result.interrupted) throw Stopped("stopped before the sound was ready");
    if (result.timed_out || result.signal != 0)
        throw FailedProgram("the synthesizer " + how_it_ended(result) + "; no sound was written");
    if (result.exit_code != 0 || has_failed(result.said))
        throw FailedProgram("the synthesizer could not play this: " + result.said.substr(0, 400));
}

}  // namespace shedbook
