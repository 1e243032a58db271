#include "run.h"

#include <algorithm>
#include <array>
#include <exception>
#include <iostream>
#include <new>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/job/own_files.h"
#include "shedbook/notation/notate.h"
#include "terminal.h"

namespace shedbook {
namespace {

struct Command {
    const char* name;
    const char* what;
    const char* example;
    Action (*set_up)(Syntax&);
};

constexpr std::array<Command, 13> kCommands{{
    {"chord", "Explain a chord: its notes, the scale to play first and why, what else fits",
     "shedbook chord \"Db7#11\" \"Em7b5\"", chord_command},
    {"drills", "Write a drill sheet for chords or scales, without a tune",
     "shedbook drills \"Db7#11\" \"F lydian\" --for tenor-sax -o sheet.mxl", drills_command},
    {"changes", "Say for every chord of a tune: key, function, scale, and the reason",
     "shedbook changes my-tune.tune --why", changes_command},
    {"book", "Write the practice book of a tune for your instrument",
     "shedbook book my-tune.tune --for alto-sax -o book.mxl", book_command},
    {"class", "Write a book for every student of a class, and the teacher's score of one drill",
     "shedbook class my-class.toml my-tune.tune -o lesson", class_command},
    {"etude", "Write an etude through the changes of a tune",
     "shedbook etude my-tune.tune --for tenor-sax --kind composed --seed 7 -o etude.mxl", etude_command},
    {"play", "Play a tune, a chord or a scale: the line over bass, chords and clicks",
     "shedbook play my-tune.tune --tempo 120", play_command},
    {"convert",
     "Turn a tune from one form into another, transpose it, write out the changes for an instrument",
     "shedbook convert song.mxl -o song.tune", convert_command},
    {"today", "Say what to practise today, in the minutes there are, and print it",
     "shedbook today --minutes 30 --for alto-sax --tune my-tune.tune -o today.pdf", today_command},
    {"log", "Write down what was practised; correct, export, back up or forget it",
     "shedbook log add \"Db7#11\" thirds --for alto-sax --tempo 96 --right 4 --wrong 1", log_command},
    {"progress", "Say what is mastered, of a tune, of a scale or of all, and draw it",
     "shedbook progress my-tune.tune --for alto-sax -o progress.svg", progress_command},
    {"measure", "Say in figures how hard a score is: range, leaps, accidentals, notes a beat",
     "shedbook measure book.mxl", measure_command},
    {"list", "List instruments, scales, drills, etudes, plans, levels and more", "shedbook list instruments",
     list_command},
}};

int run_action(const Action& action) {
    try {
        const int code = action();
        if (!std::cout.flush()) throw FileError("standard output: cannot be written");
        return code;
    } catch (const UsageError& error) {
        std::cerr << "shedbook: " << error.what() << "\n";
        return kUsage;
    } catch (const UnusableRequest& error) {
        std::cerr << "shedbook: " << error.what() << "\n";
        return kUsage;
    } catch (const InputError&) {
        return kBadInput;
    } catch (const UnwritableMusic& error) {
        std::cerr << "shedbook: " << error.what() << "\n";
        return kBadInput;
    } catch (const MachineError& error) {
        std::cerr << "shedbook: " << error.what() << "\n";
        return kMachine;
    } catch (const std::bad_alloc&) {
        std::cerr << "shedbook: not enough memory\n";
        return kMachine;
    } catch (const std::exception& error) {
        std::cerr << "shedbook: this is a fault of the program, please report it with the command line: "
                  << error.what() << "\n";
        return kMachine;
    }
}

// What to say of a first word that is no command; empty if it is one, or an option.
std::string misspelt_command(int argc, char** argv) {
    if (argc < 2 || argv[1][0] == '-') return {};
    const std::string word = argv[1];
    std::vector<std::string> names;
    for (const Command& command : kCommands) {
        if (word == command.name) return {};
        names.emplace_back(command.name);
    }
    const std::string near = nearest(word, names);
    return "no command is called '" + word + "'" +
           (near.empty() ? "; there are: " + join(names, ", ") : "; did you mean '" + near + "'?");
}

// The files behind --template, wherever it stands: help texts and checks of options name what is in them, so
// they are read before any option is declared.
std::vector<std::string> own_files(int argc, char** argv) {
    static constexpr std::string_view kOption = "--template";
    std::vector<std::string> out;
    for (int i = 1; i < argc; ++i) {
        const std::string_view word = argv[i];
        if (word == kOption && i + 1 < argc) out.emplace_back(argv[++i]);
        if (word.starts_with(kOption) && word.substr(kOption.size()).starts_with('='))
            out.emplace_back(word.substr(kOption.size() + 1));
    }
    return out;
}

bool is_named(const Command& command, int argc, char** argv) {
    return std::any_of(argv, argv + argc, [&](std::string_view word) { return word == command.name; });
}

int run_command(int argc, char** argv) {
    ProgramSyntax program{"shedbook",
                          "shedbook: from the changes of a tune to a practice book for your instrument",
                          std::string{"shedbook "} + SHEDBOOK_VERSION,
                          "'shedbook COMMAND --help' explains a command, with an example."};
    std::vector<Action> actions;
    std::vector<std::string> read_before;
    for (const Command& command : kCommands) {
        Syntax syntax =
            program.add_command(command.name, command.what, std::string{"Example:\n  "} + command.example);
        // Options tell of drills and plans, which are read for that: no other command's are needed.
        if (!is_named(command, argc, argv)) {
            actions.emplace_back();
            continue;
        }
        actions.push_back(command.set_up(syntax));
        syntax
            .add_option("--template", read_before,
                        "a file with drills, instruments, plans or scales of your own (docs/own.md)")
            .one_value();
    }
    if (const std::string slip = misspelt_command(argc, argv); !slip.empty()) {
        std::cerr << "shedbook: " << slip << "\n";
        return kUsage;
    }
    const ProgramSyntax::Asked asked = program.read(argc, argv);
    if (asked.command) return run_action(actions[*asked.command]);
    return asked.is_fault ? kUsage : kDone;
}

}  // namespace

int run(int argc, char** argv) {
    const int code = run_action([&] {
        Terminal terminal;
        use_own_files(own_files(argc, argv), terminal);
        return static_cast<int>(kDone);
    });
    return code == kDone ? run_command(argc, argv) : code;
}

}  // namespace shedbook
