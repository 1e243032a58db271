// What the commands share. Each command is a file of its own with one function in the table of run.cpp.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>

namespace shedbook {

enum ExitCode { kDone = 0, kBadInput = 1, kUsage = 2, kMachine = 3 };

// A command declares its arguments on its own sub-application and leaves behind what to do when it is chosen.
using Action = std::function<int()>;
Action chord_command(CLI::App& app);
Action drills_command(CLI::App& app);
Action changes_command(CLI::App& app);
Action book_command(CLI::App& app);
Action class_command(CLI::App& app);
Action etude_command(CLI::App& app);
Action play_command(CLI::App& app);
Action convert_command(CLI::App& app);
Action list_command(CLI::App& app);
Action measure_command(CLI::App& app);

}  // namespace shedbook
