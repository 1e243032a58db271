#include "run.h"

#include <algorithm>
#include <array>
#include <exception>
#include <initializer_list>
#include <iostream>
#include <new>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"
#include "command_line.h"
#include "help_text.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/job/own_files.h"
#include "shedbook/notation/notate.h"
#include "terminal.h"

namespace shedbook {
namespace {

// Headings of the help, in the order in which they come there.
constexpr const char* kBegin = "Begin";
constexpr const char* kFindOut = "Find out";
constexpr const char* kWrite = "Write";
constexpr const char* kListen = "Listen";
constexpr const char* kPractise = "Practise";

struct Command {
    const char* name;
    const char* what;
    const char* example;
    Action (*set_up)(Syntax&);
    const char* group = kPractise;
};

constexpr std::array<Command, 17> kCommands{{
    {"try", "Write a first book, of a tune that comes with the program", "shedbook try --for trumpet",
     try_command, kBegin},
    {"new", "Begin the chart of a tune: its form with plain changes, and notes on how to go on",
     "shedbook new \"Nine Wet Pegs\" --form aaba --key F", new_command, kBegin},
    {"serve", "Open a page in the browser that does it all: write, practise by ear, log, print",
     "shedbook serve my-tunes", serve_command, kBegin},
    {"chord", "Explain a chord: its notes, the scale to play first and why, what else fits",
     "shedbook chord \"Db7#11\" \"Em7b5\"", chord_command, kFindOut},
    {"explain", "Explain a word of a page or a reason: V7/ii, guide tone, enclosure",
     "shedbook explain \"V7/ii\" \"guide tone\"", explain_command, kFindOut},
    {"drills", "Write a drill sheet for chords or scales, without a tune",
     "shedbook drills \"Db7#11\" \"F lydian\" --for tenor-sax -o sheet.mxl", drills_command, kWrite},
    {"changes", "Say for every chord of a tune: key, function, scale, and the reason",
     "shedbook changes my-tune.tune --why", changes_command, kFindOut},
    {"book", "Write the practice book of a tune for your instrument",
     "shedbook book my-tune.tune --for alto-sax -o book.mxl", book_command, kWrite},
    {"class", "Write a book for every student of a class, and the teacher's score of one drill",
     "shedbook class my-class.toml my-tune.tune -o lesson", class_command, kWrite},
    {"etude", "Write an etude through the changes of a tune",
     "shedbook etude my-tune.tune --for tenor-sax --kind composed --seed 7 -o etude.mxl", etude_command,
     kWrite},
    {"play", "Play a tune, a chord or a scale: the line over bass, chords and clicks",
     "shedbook play my-tune.tune --tempo 120", play_command, kListen},
    {"convert",
     "Turn a tune from one form into another, transpose it, write out the changes for an instrument",
     "shedbook convert song.mxl -o song.tune", convert_command, kWrite},
    {"today", "Say what to practise today, in the minutes there are, and print it",
     "shedbook today --minutes 30 --for alto-sax --tune my-tune.tune -o today.pdf", today_command, kPractise},
    {"log", "Write down what was practised; correct, export, back up or forget it",
     "shedbook log add \"Db7#11\" thirds --for alto-sax --tempo 96 --right 4 --wrong 1", log_command,
     kPractise},
    {"progress", "Say what is mastered, of a tune, of a scale or of all, and draw it",
     "shedbook progress my-tune.tune --for alto-sax -o progress.svg", progress_command, kPractise},
    {"measure", "Say in figures how hard a score is: range, leaps, accidentals, notes a beat",
     "shedbook measure book.mxl", measure_command, kFindOut},
    {"list", "List instruments, scales, drills, etudes, plans, levels and more", "shedbook list instruments",
     list_command, kFindOut},
}};

// What every command takes. All of it is looked at before any option is declared (see run_words); these rows
// are for the help and for the reader of the line.
struct ReadBefore {
    Words templates;
    bool is_quiet = false;
};

void add_options_of_all(Syntax& syntax, ReadBefore& read_before) {
    syntax.begin_group("With every command");
    syntax
        .add_option("--template", read_before.templates,
                    "a file with drills, instruments, plans or scales of your own (docs/own.md)")
        .reads_file();
    syntax.add_flag("--quiet", read_before.is_quiet, "say errors only");
    syntax.add_answer(
        "-h,--help", [] {}, "this help");
}

int run_action(const Action& action) {
    try {
        const int code = action();
        if (!std::cout.flush()) throw FileError("standard output: cannot be written");
        return code;
    } catch (const UsageError& error) {
        say_fault(error.what());
        return kUsage;
    } catch (const UnusableRequest& error) {
        say_fault(error.what());
        return kUsage;
    } catch (const InputError&) {
        return kBadInput;
    } catch (const UnwritableMusic& error) {
        say_fault(error.what());
        return kBadInput;
    } catch (const Stopped& error) {
        say_fault(error.what());
        return kStopped;
    } catch (const MachineError& error) {
        say_fault(error.what());
        return kMachine;
    } catch (const std::bad_alloc&) {
        say_fault("not enough memory");
        return kMachine;
    } catch (const std::exception& error) {
        say_fault(std::string{"this is a fault of the program, please report it with the command line: "} +
                  error.what());
        return kMachine;
    }
}

// The files behind --template, wherever it stands: help texts and checks of options name what is in them, so
// they are read before any option is declared.
std::vector<std::string> own_files(const Words& words) {
    static constexpr std::string_view kOption = "--template";
    std::vector<std::string> out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (word == kOption && i + 1 < words.size()) out.push_back(words[++i]);
        if (word.starts_with(std::string{kOption} + "=")) out.push_back(word.substr(kOption.size() + 1));
    }
    return out;
}

// Whether one of these stands among the options.
bool asks_for(const Words& words, std::initializer_list<std::string_view> options) {
    const auto end = std::ranges::find(words, "--");
    return std::any_of(words.begin(), end, [&](const std::string& word) {
        return std::ranges::find(options, word) != options.end();
    });
}

const Command* find_command(const std::string& name) {
    const auto found = std::ranges::find(kCommands, name, &Command::name);
    return found == kCommands.end() ? nullptr : &*found;
}

int say_no_command(const std::string& word) {
    Words names;
    for (const Command& command : kCommands) names.emplace_back(command.name);
    const std::string near = nearest(word, names);
    say_fault("no command is called '" + word + "'" +
              (near.empty() ? "; there are: " + join(names, ", ") : "; did you mean '" + near + "'?"));
    return kUsage;
}

CommandRows rows_of(const Command& command) {
    return {command.name, command.what, std::string{"Example:\n  "} + command.example, command.group};
}

// The commands of a command have them as well; one that has such has no options of its own.
void add_options_below(CommandRows& command, ReadBefore& read_before) {
    for (CommandRows& own : command.commands) add_options_below(own, read_before);
    Syntax syntax{command};
    if (command.commands.empty()) add_options_of_all(syntax, read_before);
}

// Declares a command's options onto `rows`.
Action declare(const Command& command, CommandRows& rows, ReadBefore& read_before) {
    rows = rows_of(command);
    Syntax syntax{rows};
    Action action = command.set_up(syntax);
    add_options_below(rows, read_before);
    return action;
}

void add_commands_with(const std::string& option, const CommandRows& command, Words& out) {
    const bool has = std::ranges::any_of(command.rows, [&](const SyntaxRow& row) {
        return !row.is_argument() && (row.name == option || row.short_name == option);
    });
    if (has) out.push_back(command.name);
    for (const CommandRows& own : command.commands) add_commands_with(option, own, out);
}

Words commands_with(const std::string& option) {
    Words out;
    for (const CommandRows& command : all_commands()) add_commands_with(option, command, out);
    return out;
}

// Goes down the commands that the first words name; null, and said, where one is missing or misspelt.
CommandRows* asked_command(CommandRows& command, Words& words, bool asks_for_help) {
    if (command.commands.empty()) return &command;
    Words names;
    for (const CommandRows& own : command.commands) names.push_back(own_name(own));
    if (words.empty() || words.front().starts_with('-')) {
        if (asks_for_help) return &command;
        say_fault("'" + command.name + "' needs a command of its own: " + join(names, ", "));
        return nullptr;
    }
    const auto found = std::ranges::find(command.commands, words.front(), own_name);
    if (found == command.commands.end()) {
        const std::string near = nearest(words.front(), names);
        say_fault("'" + command.name + "' has no command '" + words.front() + "'" +
                  (near.empty() ? "; there are: " + join(names, ", ") : "; did you mean '" + near + "'?"));
        return nullptr;
    }
    words.erase(words.begin());
    return asked_command(*found, words, asks_for_help);
}

int run_command(const Command& command, Words words) {
    CommandRows rows;
    ReadBefore read_before;
    const Action action = declare(command, rows, read_before);
    const bool asks_for_help = asks_for(words, {"-h", "--help"});
    CommandRows* asked = asked_command(rows, words, asks_for_help);
    if (asked == nullptr) return kUsage;
    if (asks_for_help) {
        std::cout << help_of(*asked);
        return kDone;
    }
    const LineRead read = read_command_line(*asked, words, commands_with);
    for (const std::string& fault : read.faults) say_fault(fault);
    if (!read.faults.empty()) {
        if (read.is_only_missing_files) return kMachine;
        std::cerr << "for instance: " << example_of(*asked) << "\n";
        return kUsage;
    }
    asked->is_asked = true;
    return read.is_answered ? static_cast<int>(kDone) : action();
}

int show_help(const Words& words) {
    if (words.empty()) {
        std::vector<CommandRows> commands;
        commands.reserve(kCommands.size());
        for (const Command& command : kCommands) commands.push_back(rows_of(command));
        std::cout << help_of_program(commands);
        return kDone;
    }
    const Command* command = find_command(words.front());
    if (command == nullptr) return say_no_command(words.front());
    Words rest{words.begin() + 1, words.end()};
    rest.emplace_back("--help");
    return run_command(*command, rest);
}

// A line that begins with an option.
int say_command_comes_first(const Words& words) {
    const auto command =
        std::ranges::find_if(words, [](const std::string& word) { return find_command(word) != nullptr; });
    const std::string first = command == words.end() ? "COMMAND" : *command;
    say_fault("the command comes first, then " + words.front() + ": shedbook " + first + " " + words.front() +
              " ...");
    return kUsage;
}

int run_words(Words words) {
    if (words.empty()) {
        say_fault("which command? 'shedbook help' shows them; 'shedbook try' makes a first book");
        return kUsage;
    }
    const std::string first = words.front();
    if (first == "-V" || first == "--version") {
        std::cout << "shedbook " << SHEDBOOK_VERSION << "\n"
                  << "build: " << SHEDBOOK_BUILD << "\n"
                  << "libraries: " << SHEDBOOK_LIBRARIES << "\n";
        return kDone;
    }
    words.erase(words.begin());
    if (first == "help" || first == "-h" || first == "--help") return show_help(words);
    if (const Command* command = find_command(first)) {
        if (asks_for(words, {"--quiet"})) Terminal::say_errors_only();
        Terminal terminal;
        use_own_files(own_files(words), terminal);
        return run_command(*command, words);
    }
    if (!first.starts_with('-')) return say_no_command(first);
    words.insert(words.begin(), first);
    return say_command_comes_first(words);
}

}  // namespace

std::vector<CommandRows> all_commands() {
    ReadBefore read_before;
    std::vector<CommandRows> out(kCommands.size());
    for (std::size_t i = 0; i < kCommands.size(); ++i) (void)declare(kCommands[i], out[i], read_before);
    return out;
}

int run(int argc, char** argv) {
    return run_action([&] { return run_words({argv + 1, argv + argc}); });
}

}  // namespace shedbook
