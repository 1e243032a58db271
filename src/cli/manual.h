// The pages of the manual and the completions of shells, made at build time of the same rows as the help
// (syntax.h): for tests and packages there is a program of its own, shedbook_manual.
#pragma once

#include <span>
#include <string>

#include "syntax.h"

namespace shedbook {

// In the language of man(7).
[[nodiscard]] std::string man_page_of_program(std::span<const CommandRows> commands,
                                              const std::string& version);
// "shedbook-book", "shedbook-log-add"
[[nodiscard]] std::string man_page_name(const CommandRows& command);
[[nodiscard]] std::string man_page_of(const CommandRows& command, const std::string& version);

[[nodiscard]] std::string bash_completion(std::span<const CommandRows> commands);
[[nodiscard]] std::string zsh_completion(std::span<const CommandRows> commands);
[[nodiscard]] std::string fish_completion(std::span<const CommandRows> commands);

}  // namespace shedbook
