#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/io/user_folder.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "terminal.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

struct Player {
    const char* name;
    std::vector<std::string> arguments;  // before the file's name
};

// Programs that play a WAV file and then end, in the order in which they are tried.
const std::array<Player, 3>& players() {
    static const std::array<Player, 3> kPlayers{
        {{"aplay", {"-q"}}, {"paplay", {}}, {"ffplay", {"-nodisp", "-autoexit", "-loglevel", "error"}}}};
    return kPlayers;
}

// Once, the first time; if that cannot be remembered, again.
void say_caution() {
    // Empty where there is no home to remember it in.
    const std::string folder = user_folder(UserFolder::State);
    const std::string mark = folder + "/caution-read";
    std::error_code error;
    if (!folder.empty() && fs::exists(mark, error)) return;
    std::cerr
        << "Before you listen: mind the volume and protect your ears. Start low, above all with headphones, "
           "and turn up only as far as you need. (This is said once.)\n";
    if (folder.empty()) return;
    fs::create_directories(folder, error);
    std::ofstream{mark} << "";
}

std::vector<Player> players_here() {
    std::vector<Player> out;
    for (const Player& player : players()) {
        if (find_program(player.name)) out.push_back(player);
    }
    if (out.empty()) {
        throw MissingProgram(
            "nothing here plays sound: aplay, paplay or ffplay is needed (on Debian: apt-get install "
            "alsa-utils); or "
            "write a file instead, for instance: shedbook drills Dm7 --for piano -o drill.wav");
    }
    return out;
}

// Where Linux has them; elsewhere nobody knows, and the players' own words must do.
bool has_sound_card() {
    std::error_code error;
    if (!fs::is_directory("/proc", error)) return true;
    return fs::is_directory("/dev/snd", error) && !fs::is_empty("/dev/snd", error);
}

// Whichever can: the first may be there without a device to play on.
int play_file(const std::vector<Player>& players, const std::string& path) {
    ProcessOptions options;
    options.time_limit = std::chrono::hours{24};
    std::string said;
    for (const Player& player : players) {
        std::vector<std::string> command{*find_program(player.name)};
        command.insert(command.end(), player.arguments.begin(), player.arguments.end());
        command.push_back(path);
        const ProcessResult result = run_process(command, options);
        if (result.interrupted) return kStopped;
        if (result.exit_code == 0) return kDone;
        // The first thing that a player says; libraries behind it say much more.
        const std::string_view all = trimmed(result.said);
        const std::string why{all.substr(0, std::min<std::size_t>(all.find('\n'), 200))};
        said += std::string{"\n  "} + player.name + ": " + (why.empty() ? how_it_ended(result) : why);
    }
    throw FailedProgram((has_sound_card()
                             ? "the sound cannot be played here:"
                             : "this machine has no sound card that could be heard; write a file "
                               "and play it on another (shedbook convert my-tune.tune -o "
                               "my-tune.wav). What was tried:") +
                        said);
}

// False if Ctrl-C came first.
bool render(const Listening& piece, const std::string& path) {
    try {
        piece.render(path);
    } catch (const Stopped&) {
        if (!InterruptWatch::is_interrupted()) throw;
    }
    return !InterruptWatch::is_interrupted();
}

int run_play(const ListenRequest& request) {
    Terminal terminal;
    const std::vector<Listening> pieces = listen(request, terminal);
    const std::vector<Player> players = players_here();
    const InterruptWatch watch;
    const TemporaryFolder folder;
    const std::string path = folder.path() + "/sound.wav";
    // Several tempos follow each other.
    for (const Listening& piece : pieces) {
        terminal.step(1, 1, "making the sound");
        if (!render(piece, path)) return kStopped;
        terminal.end_line();
        say_caution();
        if (InterruptWatch::is_interrupted()) return kStopped;
        std::cerr << "Playing" << (piece.per_minute ? " at " + std::to_string(*piece.per_minute) : "")
                  << "; Ctrl-C stops.\n";
        if (play_file(players, path) == kStopped) return kStopped;
    }
    return kDone;
}

}  // namespace

Action play_command(Syntax& syntax) {
    auto request = std::make_shared<ListenRequest>();
    auto instrument = std::make_shared<std::string>("piano");
    syntax.say_elsewhere(
        "-o",
        "'shedbook convert my-tune.tune -o my-tune.wav' writes what it plays, and so do drills and etude");
    syntax
        .add_option("what", request->what,
                    "a tune (" + chart_endings() + "), or chords (\"Db7#11\") and scales (\"F lydian\")")
        .required();
    syntax.begin_group("Who plays it");
    syntax.add_option("--for", *instrument, "the instrument that plays the line (default: piano)")
        .takes("INSTRUMENT")
        .offers(instrument_ids)
        .checked([](const std::string& name) { (void)instrument_called(name); });
    syntax
        .add_option("--range", request->part.range, "practical, student, full, or two written notes: Bb3-F6")
        .takes("RANGE");
    add_drill_options(syntax, request->drill);
    syntax.begin_group("The tune");
    syntax
        .add_option("--only", request->only,
                    "only the pieces of the tune's book with these numbers, e.g. --only 2.3")
        .takes("NUMBERS")
        .with_commas();
    syntax
        .add_option("--transpose", request->tune.transpose,
                    "a tune to a key (Eb) or by an interval (\"up m3\")")
        .takes("WHERE");
    syntax.add_option("--part", request->tune.part, "which part of a score with several").takes("NAME");
    add_sound_options(syntax, request->sound);
    return [request, instrument] {
        request->part.instruments = {*instrument};
        return run_play(*request);
    };
}

}  // namespace shedbook
