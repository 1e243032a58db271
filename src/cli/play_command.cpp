#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "only_pieces.h"
#include "output.h"
#include "shedbook/base/text.h"
#include "shedbook/book/book.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/io/temporary_folder.h"
#include "tempo_files.h"
#include "topics.h"
#include "tunes.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr int kStopped = 130;  // what a shell gives for Ctrl-C

struct Arguments {
    std::vector<std::string> what;
    std::string instrument = "piano";
    std::string range = "practical";
    std::vector<std::string> drills;
    std::vector<std::string> only;
    SoundArguments sound;
    TuneOptions tune;
};

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

// Where it is remembered that the caution was read; empty where there is no home to keep it in.
std::string state_folder() {
    if (const char* state = std::getenv("XDG_STATE_HOME"); state != nullptr && *state == '/')
        return std::string{state} + "/shedbook";
    if (const char* home = std::getenv("HOME"); home != nullptr && *home == '/')
        return std::string{home} + "/.local/state/shedbook";
    return {};
}

// Once, the first time; if that cannot be remembered, again.
void say_caution() {
    const std::string folder = state_folder();
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

bool is_tune(const std::string& word) {
    if (word == "-") return true;
    std::error_code error;
    const fs::path path{word};
    if (fs::is_regular_file(path, error)) return true;
    const std::string ending = lower_case(path.extension().string());
    return std::ranges::find(chart_readers(), ending, &ChartReader::ending) != chart_readers().end();
}

// A tune is played with its melody, if it has one; with --only or --drills, from its book.
Assemble assemble_tunes(const Arguments& arguments, const BookPart& part, const BookOptions& options) {
    auto tunes = std::make_shared<std::vector<Tune>>(load_tunes(arguments.what, arguments.tune));
    const bool from_book = !arguments.only.empty() || !arguments.drills.empty();
    if (!from_book && tunes->size() > 1)
        throw UsageError("play takes one tune at a time, or chords and scales");
    return [=](BlockSink& sink) {
        Diagnostics unused;  // what paper cannot carry is no matter here
        if (from_book) {
            assemble_book(*tunes, {&part, 1}, 0, options, sink, unused);
        } else {
            assemble_lead_sheet(tunes->front().chart, *part.instrument, Prefer::Fewest, sink, unused);
        }
    };
}

Assemble assemble_topics(const Arguments& arguments, const BookPart& part, const BookOptions& options) {
    Diagnostics diagnostics;
    const std::vector<SheetTopic> topics = topics_of(arguments.what, diagnostics);
    print(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return [=](BlockSink& sink) {
        Diagnostics unused;
        assemble_sheet(topics, {&part, 1}, 0, options, sink, unused);
    };
}

Assemble assemble_what(const Arguments& arguments) {
    if (arguments.what.empty()) throw UsageError("play needs a tune, a chord or a scale");
    PartArguments names;
    names.instruments = {arguments.instrument};
    names.range = arguments.range;
    const BookPart part = parts_of(names, nullptr).front();
    BookOptions options;
    const bool tunes = is_tune(arguments.what.front());
    options.drills = drills_of(!tunes && arguments.drills.empty() ? sheet_drills() : arguments.drills);
    // To hear a chord's scale, one drill will do.
    if (!tunes && arguments.drills.empty() && arguments.only.empty()) options.drills.resize(1);
    const Assemble all =
        tunes ? assemble_tunes(arguments, part, options) : assemble_topics(arguments, part, options);
    return [all, only = arguments.only](BlockSink& sink) { take_only(only, sink, all); };
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
        const std::string why{trimmed(result.said.substr(0, 200))};
        said += std::string{"\n  "} + player.name + ": " + (why.empty() ? how_it_ended(result) : why);
    }
    throw FailedProgram("the sound cannot be played here:" + said);
}

// False if Ctrl-C came first.
bool render(const Writer& writer, const std::string& path, const AtTempo& piece) {
    try {
        writer.write(path, piece.assemble, piece.options);
    } catch (const Stopped&) {
        if (!InterruptWatch::is_interrupted()) throw;
    }
    return !InterruptWatch::is_interrupted();
}

int run_play(const Arguments& arguments) {
    WriteOptions options;
    options.sound = sound_options_of(arguments.sound);
    const Assemble assemble = assemble_what(arguments);
    const std::vector<Player> players = players_here();
    const InterruptWatch watch;
    const TemporaryFolder folder;
    const std::string path = folder.path() + "/sound.wav";
    const Writer& writer = writer_for(path);
    // Several tempos follow each other.
    for (const AtTempo& each : at_tempos(writer, options, assemble)) {
        if (!render(writer, path, each)) return kStopped;
        say_caution();
        if (InterruptWatch::is_interrupted()) return kStopped;
        std::cerr << "Playing" << (each.per_minute ? " at " + std::to_string(*each.per_minute) : "")
                  << "; Ctrl-C stops.\n";
        if (play_file(players, path) == kStopped) return kStopped;
    }
    return kDone;
}

}  // namespace

Action play_command(CLI::App& app) {
    auto arguments = std::make_shared<Arguments>();
    app.add_option("what", arguments->what,
                   "a tune (" + chart_endings() + "), or chords (\"Db7#11\") and scales (\"F lydian\")")
        ->required();
    app.add_option("--for", arguments->instrument, "the instrument that plays the line (default: piano)");
    app.add_option("--range", arguments->range, "practical, student, full, or two written notes: Bb3-F6");
    app.add_option("--drills", arguments->drills, "which drills, e.g. --drills thirds,sevenths")
        ->delimiter(',');
    app.add_option("--only", arguments->only,
                   "only the pieces of the tune's book with these numbers, e.g. --only 2.3")
        ->delimiter(',');
    app.add_option("--transpose", arguments->tune.transpose,
                   "a tune to a key (Eb) or by an interval (\"up m3\")");
    app.add_option("--part", arguments->tune.part, "which part of a score with several");
    add_sound_options(app, arguments->sound);
    return [arguments] { return run_play(*arguments); };
}

}  // namespace shedbook
