// Reads the words behind a command against its rows. Every fault is found in one run: an option that is
// misspelled, a value that cannot be, a word too many, what is missing.
//
//     const LineRead read = read_command_line(command, {"my.tune", "--for", "flute"});
//     read.faults;                  // {"-o FILE is missing: file to write ..."}
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "syntax.h"

namespace shedbook {

struct LineRead {
    std::vector<std::string> faults;
    bool is_only_missing_files = false;  // nothing else is wrong but that
    bool is_answered = false;            // by a flag such as --kinds: nothing is left to do
};

// Which commands have an option: told of one that stands with another command.
using CommandsWith = std::function<std::vector<std::string>(const std::string& option)>;

// Fills what the rows were declared onto.
[[nodiscard]] LineRead read_command_line(const CommandRows& command, const std::vector<std::string>& words,
                                         const CommandsWith& commands_with);

// Files that are named and are not there, each with what is near it in its folder: "a.tune: there is no such
// file; did you mean 'b.tune'?"
[[nodiscard]] std::string missing_file(const std::string& path);

// "--for INSTRUMENTS", "-o FILE", "TUNE..."
[[nodiscard]] std::string usage_of(const SyntaxRow& row);

}  // namespace shedbook
