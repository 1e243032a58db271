// The help: of the program, and of a command. No line is longer than a hundred columns.
#pragma once

#include <span>
#include <string>

#include "syntax.h"

namespace shedbook {

inline constexpr std::size_t kHelpColumns = 100;

// What the exit codes of the program mean, a line each: "0   done".
[[nodiscard]] std::string exit_codes();
// The commands under the headings of their groups.
[[nodiscard]] std::string help_of_program(std::span<const CommandRows> commands);
[[nodiscard]] std::string help_of(const CommandRows& command);
// "shedbook book TUNE... --for INSTRUMENTS -o FILE [options]"
[[nodiscard]] std::string usage_of(const CommandRows& command);
// The first example of its footer: "shedbook book my-tune.tune ..."
[[nodiscard]] std::string example_of(const CommandRows& command);
// The last word of its name: "add" of "log add".
[[nodiscard]] std::string own_name(const CommandRows& command);
// The headings of the options of a command, in the order in which they come.
[[nodiscard]] Words groups_of(const CommandRows& command);
// "-o, --output FILE"
[[nodiscard]] std::string name_in_help(const SyntaxRow& row);

// Words in lines of at most so many columns, each behind `indent` blanks.
[[nodiscard]] std::string wrapped_lines(const std::string& text, std::size_t indent,
                                        std::size_t columns = kHelpColumns);

}  // namespace shedbook
